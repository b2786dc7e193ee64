#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/climate.hpp"

#include "report/output_style.hpp"

namespace amptally::report {

/// One shipped place, as `places` lists it.
struct ListedPlace {
  ClimateRow row;
  double sun_mean_kwh_m2_day;         ///< over the year's days
  std::optional<double> distance_km;  ///< from the point asked for, when one was
};

[[nodiscard]] std::string places_report(const std::vector<ListedPlace>& places,
                                        const OutputStyle& style);

}  // namespace amptally::report
