#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "amptally/weather.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen, by the months of five years by the hour (tests/published/plane_reference_test.cpp): on
// planes of 60 deg or steeper 6 to 11 in 100 are more than 10 % off in winter and on those that do
// not look towards the equator, otherwise less than one; on flatter ones two at most.
constexpr double kSteep_deg = 60;
constexpr double kSideways_deg = 60;

// Chosen: the five lie at 7, 32, 40, 41 and 56 degrees; winters count at those beyond 35.
constexpr double kLongWinters_deg = 35;
constexpr double kFarthestCompared_deg = 56;

bool looks_sideways(double latitude_deg, double azimuth_deg) {
  const double equator_deg = latitude_deg < 0 ? 0 : 180;
  return std::abs(std::remainder(azimuth_deg - equator_deg, 360.0)) > kSideways_deg;
}

Assumption good_to_a_tenth(std::string_view what) {
  return {AssumptionKind::panel,
          fmt::format("{} is good to about 10 % even with exact sun on the ground.", what)};
}

}  // namespace

std::optional<Assumption> plane_error(const Place& place, const PanelPlane& plane) {
  const double latitude_deg = std::abs(place.latitude_deg);
  if (latitude_deg > kFarthestCompared_deg) {
    return good_to_a_tenth("So far from the equator a month's sun on the panel");
  }
  if (plane.tilt_deg < kSteep_deg) return std::nullopt;
  if (looks_sideways(place.latitude_deg, plane.azimuth_deg)) {
    return good_to_a_tenth(
        "A month's sun on a panel of 60° or steeper that does not look towards the equator");
  }
  if (latitude_deg <= kLongWinters_deg) return std::nullopt;
  return good_to_a_tenth(
      fmt::format("A month's sun on a panel of 60° or steeper, from {},",
                  place.latitude_deg < 0 ? "May to August" : "November to February"));
}

}  // namespace amptally::inline v0_1
