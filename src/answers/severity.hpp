#pragma once

#include <tuple>

#include "amptally/balance.hpp"

namespace amptally::inline v0_1 {

/// How badly a year goes, compared from left to right: days short or below the floor, energy not
/// served, depth, and least of all days without sun.
[[nodiscard]] inline auto severity(const YearBalance& year) {
  return std::tuple(year.shortfall_days + year.floor_days, year.shortfall_wh,
                    year.deepest_discharge, -year.autonomy_days);
}
using Severity = decltype(severity(YearBalance()));

}  // namespace amptally::inline v0_1
