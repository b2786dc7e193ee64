#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "amptally/quantity.hpp"

/// The units that quantities are written in.
namespace amptally::inline v0_1 {

/// base = number * times / over + offset. Kept as two factors so that "350 mA" is exactly 0.35.
struct Unit {
  std::string_view symbol;
  double times = 1;
  double over = 1;
  double offset = 0;
  bool listed = true;  ///< named in messages; the others are spellings that are understood
};

/// The units of one dimension.
struct Family {
  Dimension dimension;
  std::string_view noun;        ///< "a current"
  std::span<const Unit> units;  ///< base unit first
};

/// All of them, in the order of `Dimension`.
[[nodiscard]] std::span<const Family> families();
[[nodiscard]] const Family& family(Dimension dimension);

/// Symbols that messages name, of several dimensions.
[[nodiscard]] std::vector<std::string_view> listed_symbols(std::span<const Dimension> accepted);

/// A unit found by its symbol, and whose it is.
struct UnitMatch {
  Dimension dimension;
  const Unit* unit;
};

/// The first unit of the accepted dimensions that is written so; unset where none is.
[[nodiscard]] std::optional<UnitMatch> find_unit(std::string_view symbol,
                                                 std::span<const Dimension> accepted);

}  // namespace amptally::inline v0_1
