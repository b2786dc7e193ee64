#pragma once

/// Arithmetic that is written once, for one design or for as many side by side as a processor's
/// vectors hold.
///
/// Sums, products, least, most and one choice only, each rounded alike everywhere: so any width of
/// vector gives the same bits. Includes nothing, and neither may what is written with it: it is
/// also compiled for newer processors than the rest of the program, and an inline function of a
/// library made there could be linked into code that runs everywhere.
namespace amptally {

// A step that is called instead of inlined takes twice as long.
#define AMPTALLY_INLINE [[gnu::always_inline]] inline

/// Arithmetic on one design. Wider kinds have the same members over vectors of `kWidth` doubles.
struct OneLane {
  using Value = double;
  static constexpr int kWidth = 1;
  static Value all(double x) { return x; }
  static Value load(const double* from) { return *from; }
  static void store(double* to, Value x) { *to = x; }
  static Value least(Value a, Value b) { return a < b ? a : b; }
  static Value most(Value a, Value b) { return a > b ? a : b; }
  /// `x` where a <= b, else `y`.
  static Value where_no_more(Value a, Value b, Value x, Value y) { return a <= b ? x : y; }
  /// Whether any of the lanes is above 0.
  static bool any_positive(Value x) { return x > 0; }
};

}  // namespace amptally
