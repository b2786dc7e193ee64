#pragma once

#include <string>
#include <vector>

#include "amptally/load.hpp"
#include "amptally/sun.hpp"

namespace amptally::inline v0_1 {

/// Share of each of the 8,760 hours of a year in which the load is on.
///
/// @param field     its schedule's place in the site, for messages: `loads[0].per_day`
/// @param geometry  365 days, for sunrise and sunset
/// @param said      gets a sentence where the load cannot run as long as it should
/// @throws as `load_profile`
[[nodiscard]] std::vector<double> hours_on(const Site& site, const Load& load,
                                           const std::string& field,
                                           const std::vector<DayGeometry>& geometry,
                                           std::vector<Assumption>& said);

}  // namespace amptally::inline v0_1
