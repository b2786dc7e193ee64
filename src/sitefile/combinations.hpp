#pragma once

#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

#include "sitefile/varied_field.hpp"
#include "sitefile/vary_rows.hpp"
#include "sitefile/vary_text.hpp"

namespace amptally::io {

using Axis = std::variant<FieldAxis, RowAxis>;

/// So many combinations drawn by chance instead of all there are.
struct Draws {
  std::uint64_t count;
  std::uint64_t seed;
};

/// A part of the combinations: `part` of `of`, counted from 1.
struct Shard {
  std::uint64_t part = 1;
  std::uint64_t of = 1;
};

/// Combinations from `first` up to, not including, `end`.
struct Span {
  std::uint64_t first;
  std::uint64_t end;
};

/// A number for every combination of the axes' values, and back.
///
/// All combinations are numbered like the digits of a clock: the last axis changes from one to the
/// next, the first most slowly. Drawn ones depend on the seed and their number alone: each axis
/// gives any of its values (any row; anything in an open range), all as likely. Nothing is kept per
/// combination.
class Combinations {
 public:
  /// Most combinations: their numbers are exact as doubles, in any script's hands.
  static constexpr std::uint64_t kMost = std::uint64_t{1} << 53U;

  /// @param axes  at least one; open ranges only where values are drawn
  /// @throws InputError if there are more than kMost, or if a field is on two axes
  Combinations(std::vector<Axis> axes, std::optional<Draws> draws);

  [[nodiscard]] std::uint64_t count() const { return count_; }
  [[nodiscard]] const std::vector<VariedField>& fields() const { return fields_; }

  /// The values of a combination, one a field.
  [[nodiscard]] std::vector<VariedValue> at(std::uint64_t number) const;

  /// The combinations of a shard: one after the other the shards are all of them, each as many as
  /// the others or one more.
  [[nodiscard]] Span span(const Shard& shard) const;

 private:
  std::vector<Axis> axes_;
  std::optional<Draws> draws_;
  std::vector<VariedField> fields_;
  std::uint64_t count_ = 1;
};

}  // namespace amptally::io
