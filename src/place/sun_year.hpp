#pragma once

#include <span>

#include "amptally/weather.hpp"

namespace amptally::inline v0_1 {

/// Month, 0..11, of day `d`, 0..364.
[[nodiscard]] inline std::size_t month_index(std::size_t d) {
  return static_cast<std::size_t>(month_of_day(static_cast<int>(d) + 1));
}

/// A sky over the same plane at the same spot, with the monthly figures of `place`.
[[nodiscard]] SiteSky in_other_climate(SiteSky sky, const Place& place);

/// A year with the mean year's days and air, and no sun yet.
[[nodiscard]] SunYear empty_year(const SiteSky& sky);

/// The 24 hours of the plane on day `d`, 0..364.
[[nodiscard]] std::span<double, kHoursPerDay> hours_of(SunYear& year, std::size_t d);

/// Sum of a day's hours, W/m2 in, kWh/m2 out.
[[nodiscard]] double sum_kwh_m2(std::span<const double, kHoursPerDay> w_m2);

/// Gives day `d` a horizontal irradiation, split by the daily Erbs share and turned by Hay &
/// Davies.
void set_day(const DayGeometry& geometry, double horizontal_kwh_m2, std::size_t d, SunYear& year);

}  // namespace amptally::inline v0_1
