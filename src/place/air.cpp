#include "place/air.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "amptally/weather.hpp"

#include "place/sun_year.hpp"
#include "place/tropics.hpp"

namespace amptally::inline v0_1 {
namespace {

// See air_month().
constexpr double kDeviation_k = 3.0;
constexpr double kTropicalDeviation_k = 1.3;
constexpr double kColderThan_c = 5;
constexpr double kMoreForEachKelvin_k = 0.28;
constexpr double kWithClearnessInFrost = -0.4;
constexpr double kWithoutClearnessFrom_c = 12;

constexpr double kSwingWithClearness = 0.55;

}  // namespace

double AirMonth::warmer_k(double clearness_score, double air_score) const {
  return deviation_k * (with_clearness * clearness_score +
                        std::sqrt(1 - with_clearness * with_clearness) * air_score);
}

AirMonth air_month(double air_temp_c, double latitude_deg) {
  const double cold = std::clamp(1 - air_temp_c / kWithoutClearnessFrom_c, 0.0, 1.0);
  return {.deviation_k = kTropicalDeviation_k +
                         (kDeviation_k - kTropicalDeviation_k) * temperate_share(latitude_deg) +
                         kMoreForEachKelvin_k * std::max(0.0, kColderThan_c - air_temp_c),
          .with_clearness = kWithClearnessInFrost * cold};
}

std::array<AirMonth, 12> air_months(const Place& place) {
  std::array<AirMonth, 12> months;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    months[m] = air_month(place.air_temp_c[m], place.latitude_deg);
  }
  return months;
}

double swing_ratio(double clearness_ratio) {
  return 1 - kSwingWithClearness + kSwingWithClearness * clearness_ratio;
}

Monthly frost_days(const Place& place) {
  const std::array<AirMonth, 12> air = air_months(place);
  const std::vector<WeatherDay> days = mean_days(place);
  Monthly frost{};
  for (std::size_t d = 0; d < days.size(); ++d) {
    const std::size_t m = month_index(d);
    const double coldest_c = days[d].air_temp_c - days[d].air_swing_c / 2;
    frost[m] += std::erfc(coldest_c / air[m].deviation_k / std::numbers::sqrt2) / 2;
  }
  return frost;
}

}  // namespace amptally::inline v0_1
