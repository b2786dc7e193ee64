#pragma once

#include <optional>
#include <vector>

#include "amptally/balance.hpp"

#include "station.hpp"

/// What a small watering system is told in a file's weather and in synthetic weather.
namespace weather_truth {

/// What one weather tells of a system.
struct Told {
  double served_share;
  double short_days;  ///< a year, mean
  amptally::Spread short_days_of_years;
};

/// One system in both weathers.
struct Case {
  StationPlane plane;
  double usable_days;   ///< of use, in the battery above the cutoff
  double sun_over_use;  ///< in the month that is poorest in the mean of the file's years
  Told file;
  Told synthetic;
  std::optional<Told> redrawn;     ///< for a run: in as many synthetic years of another seed
  std::optional<Told> own_spread;  ///< for a run: in synthetic years of its own spread of days

  [[nodiscard]] double served_too_kind_points() const {
    return 100 * (synthetic.served_share - file.served_share);
  }
};

/// All sizes of the system over one plane: 24 against a file of one year, 18 against a run.
[[nodiscard]] std::vector<Case> cases_over(const StationPlane& plane, const SunYears& years);

}  // namespace weather_truth
