#include "amptally/quantity.hpp"

#include <cmath>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"

namespace amptally::fuzz {
namespace {

constexpr int kDimensions = static_cast<int>(Dimension::number) + 1;

bool about(double one, double other) {
  return std::abs(one - other) <= 1e-14 * std::max(std::abs(one), std::abs(other));
}

/// A quantity as one writes it in its base unit.
std::string written(const Quantity& quantity) {
  const double factor = quantity.dimension == Dimension::share ? 100 : 1;  // its base unit is "%"
  return fmt::format("{}..{} {}", factor * quantity.low, factor * quantity.high,
                     base_unit(quantity.dimension));
}

void require_quantity(const Quantity& quantity) {
  require_finite(quantity.low, "the low end");
  require_finite(quantity.high, "the high end");
  require(quantity.low <= quantity.middle && quantity.middle <= quantity.high,
          "the middle is between the ends");
  if (std::abs(quantity.high) > 1e300) return;  // a hundred times as many per cent
  const Quantity again = parse_quantity(written(quantity), quantity.dimension);
  require(about(again.low, quantity.low) && about(again.high, quantity.high),
          "written in its base unit it is the same: " + written(quantity));
}

}  // namespace

void quantity(std::string_view text, bool /*thorough*/) {
  for (int d = 0; d < kDimensions; ++d) {
    // With a neighbour, as a draw may be amperes or watts.
    const Dimension accepted[] = {static_cast<Dimension>(d),
                                  static_cast<Dimension>((d + 1) % kDimensions)};
    Quantity quantity;
    try {
      quantity = parse_quantity(text, accepted);
    } catch (const InputError& error) {
      require_message(error.what());
      continue;
    }
    require_quantity(quantity);
  }
}

}  // namespace amptally::fuzz
