#include "amptally/rough_sun.hpp"

#include <vector>

#include "amptally/validate.hpp"
#include "amptally/weather.hpp"

#include "answers/rough_cases.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {

RoughSun study_rough_sun(const Site& site, const RoughOptions& options) {
  require_valid(site);
  const RoughCases cases = rough_cases(site, options.cases, options.exact_climate);
  RoughSun result{.cases = static_cast<int>(cases.sites.size()),
                  .climate_error_share = cases.climate_error_share};
  std::vector<std::array<SunMonth, 12>> years;
  for (const Site& one : cases.sites) {
    const SiteSky sky = site_sky(one.place, panel_plane(one));
    years.push_back(sun_months(sky, mean_sun_year(sky)));
  }
  const auto spread_over = [&](auto figure) {
    std::vector<double> values;
    for (const std::array<SunMonth, 12>& year : years) values.push_back(figure(year));
    return spread_of(values);
  };
  for (std::size_t m = 0; m < 12; ++m) {
    result.sun_horizontal_kwh_m2_day[m] =
        spread_over([m](const auto& year) { return year[m].sun_horizontal_kwh_m2_day; });
    result.sun_panel_kwh_m2_day[m] =
        spread_over([m](const auto& year) { return year[m].sun_panel_kwh_m2_day; });
  }
  result.panel_year_kwh_m2 = spread_over([](const auto& year) {
    double sum = 0;
    for (int m = 0; m < 12; ++m) {
      sum += year[static_cast<std::size_t>(m)].sun_panel_kwh_m2_day * days_in_month(m);
    }
    return sum;
  });
  return result;
}

}  // namespace amptally::inline v0_1
