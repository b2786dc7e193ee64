#pragma once

#include <string>
#include <vector>

#include "days.hpp"
#include "plane_sun.hpp"
#include "small_system.hpp"

/// Everything compared, and what is aimed at.
namespace weather_truth {

/// Aimed at for every month of a plane where the sun is not low.
inline constexpr double kPlaneMonth_pct = 10;

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

/// Whether a year's short days lie among those of the synthetic years, or near.
[[nodiscard]] bool is_inside(const Case& c);
[[nodiscard]] bool is_served_alike(const Case& c);

/// Whether the short days of the middle year of a run, of its one in ten, and what is served in all
/// are those of synthetic years.
struct RunCheck {
  bool p50;
  bool p90;
  bool served;
};
[[nodiscard]] RunCheck check_run(const Case& c);

/// Days of shortfall that synthetic years have more than the run: in the middle year, in one in
/// ten.
[[nodiscard]] double too_many_p50(const Case& c);
[[nodiscard]] double too_many_p90(const Case& c);

/// All bars, a line each.
[[nodiscard]] std::string verdict_text(const Results& results);

}  // namespace weather_truth
