#pragma once

/// Arithmetic that is written once, for one design or for as many side by side as a processor's
/// vectors have lanes.
///
/// Sums, products, the lesser, the greater and one choice only, each rounded alike everywhere: so
/// any width of vector gives the same bits. Includes nothing, and neither may what is written with
/// it: it is also compiled for newer processors than the rest of the program, and an inline
/// function of a library compiled there could be linked into code that runs everywhere.
namespace amptally::inline v0_1 {

// Always, since a step that is called takes twice as long as one that is inlined.
#define AMPTALLY_INLINE [[gnu::always_inline]] inline

/// Arithmetic on one design. The vector kinds (balance/batch/kernel_*.cpp) have the same members,
/// on `kWidth` designs at once.
struct ScalarArithmetic {
  using Value = double;
  static constexpr int kWidth = 1;
  static Value all(double x) { return x; }
  static Value load(const double* from) { return *from; }
  static void store(double* to, Value x) { *to = x; }
  static Value min(Value a, Value b) { return a < b ? a : b; }
  static Value max(Value a, Value b) { return a > b ? a : b; }
  /// `then` where a <= b, else `otherwise`.
  static Value if_at_most(Value a, Value b, Value then, Value otherwise) {
    return a <= b ? then : otherwise;
  }
  /// Whether any of the lanes is above 0.
  static bool any_positive(Value x) { return x > 0; }
};

}  // namespace amptally::inline v0_1
