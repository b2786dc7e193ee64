#pragma once

#include <string_view>
#include <utility>

#include "amptally/site.hpp"

namespace amptally::io {

/// The months of "Jun", "Oct-Apr" (passing New Year) or "October - April"; any case.
/// @throws InputError (no field) naming what is not a month and a likely correction
[[nodiscard]] MonthSet parse_months(std::string_view text);

/// Minutes after midnight of "06:30"; 0..1439.
/// @throws InputError (no field)
[[nodiscard]] double parse_time_of_day(std::string_view text);

/// The ends of "90..150" or "350..20 deg", clockwise, in degrees; not range-checked.
/// @throws InputError (no field)
[[nodiscard]] std::pair<double, double> parse_azimuth_extent(std::string_view text);

}  // namespace amptally::io
