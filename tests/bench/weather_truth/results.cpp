#include "results.hpp"

#include "balance/parallel_for.hpp"

namespace weather_truth {

Results compare(const std::vector<Station>& stations, int threads) {
  struct Made {
    std::vector<Case> cases;
    std::vector<SunErrors> suns;
    std::vector<DayFigures> days;
  };
  const std::vector<StationPlane> planes = planes_of(stations);
  std::vector<Made> made(planes.size());
  std::vector<std::vector<PlaneMonth>> all_round(stations.size());
  const int jobs = static_cast<int>(planes.size() + stations.size());
  amptally::in_parallel(jobs, threads, [&](int job) {
    const auto i = static_cast<std::size_t>(job);
    if (i >= planes.size()) {
      const std::size_t s = i - planes.size();
      if (stations[s].series->hourly) all_round[s] = plane_months(stations[s]);
      return;
    }
    const StationPlane& plane = planes[i];
    const SunYears years = sun_years(plane);
    made[i].cases = cases_over(plane, years);
    if (plane.station->series->hourly) made[i].suns = {sun_errors(plane, years)};
    if (i % 2 == 0) made[i].days = {day_figures(*plane.station, years)};  // the same in both
  });
  Results results;
  const auto append = [](auto& to, const auto& from) {
    to.insert(to.end(), from.begin(), from.end());
  };
  for (std::size_t i = 0; i < planes.size(); ++i) {
    append(planes[i].station->is_run() ? results.run_cases : results.year_cases, made[i].cases);
    append(results.suns, made[i].suns);
    append(results.days, made[i].days);
  }
  for (const auto& months : all_round) append(results.planes, months);
  return results;
}

}  // namespace weather_truth
