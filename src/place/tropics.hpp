#pragma once

#include <algorithm>
#include <cmath>

namespace amptally::inline v0_1 {

/// How far a place is out of the tropics, 0..1: 0 within 15 degrees of the equator, 1 from 30
/// degrees on, in a straight line between. Chosen: of the measured stations those at 3, 5 and 18
/// degrees are alike, and those from 29 on.
[[nodiscard]] inline double temperate_share(double latitude_deg) {
  constexpr double kTropicsTo_deg = 15;
  constexpr double kTemperateFrom_deg = 30;
  return std::clamp(
      (std::abs(latitude_deg) - kTropicsTo_deg) / (kTemperateFrom_deg - kTropicsTo_deg), 0.0, 1.0);
}

}  // namespace amptally::inline v0_1
