#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "amptally/sun.hpp"

namespace amptally::inline v0_1 {

/// What the loads ask for over a year, hour by hour.
struct LoadProfile {
  std::vector<double> asked_ah;    ///< 8,760, all loads together, standby not included
  std::vector<std::string> names;  ///< of the `profiled_loads`
  std::vector<double> load_ah;     ///< one per name, asked over the year
  /// What the battery is drawn at while it flows, hour by hour: the draws of all loads that run in
  /// the hour, however short, at once, and the idle draw of the others.
  std::vector<double> draws_a;              ///< each different draw of the year once
  std::vector<std::uint16_t> draw_of_hour;  ///< 8,760, which of them
  Monthly largest_draw_a{};                 ///< of each month
  // Loads that run for a part of an hour: as if together, for as long as their charge takes.
  std::vector<double> run_ah;     ///< 8,760, asked while they run, of `asked_ah`
  std::vector<double> run_share;  ///< 8,760, of the hour; 0 where the same current flows all hour
  std::vector<Assumption> assumptions;  ///< e.g. a day too short for the asked daylight minutes
};

/// The loads of a profile, in its order: the site's, then its solenoid valves.
[[nodiscard]] std::vector<Load> profiled_loads(const Site& site);

/// The largest draw of the year, A.
[[nodiscard]] double largest_draw_a(const LoadProfile& profile);

/// The loads of a site on the clock.
///
/// `always`: every hour. `per_day`: spread evenly over the hours of `when` (day: sunrise to sunset;
/// night: the rest), at most as long as that lasts, which is said. `runs`: on the clock, past
/// midnight into the next day. `every`: days 1, 1 + n, 1 + 2n ... of the year. Outside its months a
/// load is off. While off it takes its `idle` draw. Watts become amps at the bank's nominal
/// voltage.
/// @param geometry  365 days, for sunrise and sunset
/// @throws InputError, ModelError for a water line whose minutes cannot be worked out, see
///         `from_water_minutes_day`
[[nodiscard]] LoadProfile load_profile(const Site& site, const std::vector<DayGeometry>& geometry);

}  // namespace amptally::inline v0_1
