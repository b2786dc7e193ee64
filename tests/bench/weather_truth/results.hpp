#pragma once

#include <vector>

#include "days.hpp"
#include "plane_sun.hpp"
#include "small_system.hpp"

/// Everything that is compared.
namespace weather_truth {

/// In the order of the stations.
struct Results {
  std::vector<Case> year_cases;  ///< against files of one year
  std::vector<Case> run_cases;   ///< against files of many
  std::vector<SunErrors> suns;   ///< in hourly years
  std::vector<PlaneMonth> planes;
  std::vector<DayFigures> days;
};

/// @param stations  must outlive the results
[[nodiscard]] Results compare(const std::vector<Station>& stations, int threads);

}  // namespace weather_truth
