#include "fuzz/weather_years.hpp"

#include <algorithm>
#include <cmath>

#include "amptally/error.hpp"
#include "amptally/weather.hpp"

#include "fuzz/promises.hpp"
#include "sitefile/weather_file.hpp"

namespace amptally::fuzz {
namespace {

template <class Values>
bool all_finite(const Values& values) {
  return std::all_of(values.begin(), values.end(),
                     [](double value) { return std::isfinite(value); });
}

void require_series(const WeatherSeries& series) {
  require(series.years >= 1, "there is a year");
  const std::size_t steps = series.steps_a_year() * static_cast<std::size_t>(series.years);
  require(series.global_wh_m2.size() == steps && series.lines.size() == steps, "years are whole");
  for (const auto* const column :
       {&series.global_wh_m2, &series.direct_wh_m2, &series.diffuse_wh_m2, &series.air_temp_c}) {
    require(column->empty() || column->size() == steps, "columns are whole or not there");
    require(all_finite(*column), "the values of the weather are finite");
  }
}

/// The sun of each year on a sound site's panel.
void require_sun(const WeatherSeries& series) {
  Site site = *io::read_site(kGoodSite, "site.json", {}).site;
  site.place = place_of(series, site.place);
  const SiteSky sky = site_sky(site.place, panel_plane(site));
  for (int year = 0; year < series.years; ++year) {
    const SunYear sun = series_sun_year(sky, series, year);
    const bool is_sun = std::all_of(sun.plane_w_m2.begin(), sun.plane_w_m2.end(),
                                    [](double value) { return value >= 0 && value < 1e5; });
    require(is_sun, "sun on the panel");
    require(all_finite(sun.air_temp_c), "the air over the panel is finite");
  }
}

}  // namespace

void try_weather(const std::string& name, std::string_view text, bool thorough) {
  try {
    const WeatherSeries series = io::read_weather(name, text);
    require_series(series);
    if (thorough) require_sun(series);
  } catch (const Error& error) {
    require_message(error.what());
  }
}

}  // namespace amptally::fuzz
