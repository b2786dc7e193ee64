#include "station.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <iterator>

#include <fmt/format.h>

#include "sitefile/file_text.hpp"
#include "sitefile/weather_file.hpp"

using namespace amptally;

namespace weather_truth {

std::string zone_name(Zone zone) {
  switch (zone) {
    case Zone::tropics:
      return "within 23.5 degrees";
    case Zone::middle:
      return "23.5 to 45 degrees";
    case Zone::high:
      break;
  }
  return "45 degrees and more";
}

std::string Station::name() const {
  // The file's name up to its number: what stands in files is now a code, now an airport.
  std::string file = std::filesystem::path(series->path).stem().string();
  for (std::size_t i = 0; i + 1 < file.size(); ++i) {
    if (file[i] == '.' && file[i + 1] >= '0' && file[i + 1] <= '9') file.resize(i);
  }
  std::replace_if(
      file.begin(), file.end(), [](char c) { return c == '.' || c == '_'; }, ' ');
  return fmt::format("{}, {:.1f} {}", file, std::abs(place.latitude_deg),
                     place.latitude_deg < 0 ? "S" : "N");
}

Zone Station::zone() const {
  const double latitude_deg = std::abs(place.latitude_deg);
  if (latitude_deg < 23.5) return Zone::tropics;
  return latitude_deg < 45 ? Zone::middle : Zone::high;
}

std::vector<Station> read_stations(const std::vector<std::string>& files) {
  std::vector<Station> stations;
  for (const std::string& file : files) {
    auto series = std::make_shared<const WeatherSeries>(
        io::read_weather(file, io::read_file(file, std::cin, io::kMaxWeatherFileBytes)));
    const Place place = place_of(*series, {});
    stations.push_back({std::move(series), place});
  }
  std::stable_sort(stations.begin(), stations.end(), [](const Station& a, const Station& b) {
    return std::abs(a.place.latitude_deg) < std::abs(b.place.latitude_deg);
  });
  return stations;
}

PanelPlane StationPlane::plane() const {
  return {.tilt_deg = tilt_deg, .azimuth_deg = towards_equator_deg(station->place)};
}

std::string StationPlane::title() const {
  return fmt::format("{}, tilt {:.0f}", station->name(), tilt_deg);
}

double towards_equator_deg(const Place& place) { return place.latitude_deg < 0 ? 0 : 180; }

std::vector<StationPlane> planes_of(const std::vector<Station>& stations) {
  std::vector<StationPlane> planes;
  for (const Station& station : stations) {
    planes.push_back({&station, std::min(90.0, std::abs(station.place.latitude_deg) + 15)});
    planes.push_back({&station, 60});
  }
  return planes;
}

SunYears sun_years(const StationPlane& plane) {
  SunYears years;
  years.sky = site_sky(plane.station->place, plane.plane());
  const WeatherSeries& series = *plane.station->series;
  for (int y = 0; y < series.years; ++y) {
    years.file.push_back(series_sun_year(years.sky, series, y));
  }
  for (int y = 0; y < kSyntheticYears; ++y) {
    years.synthetic.push_back(synthetic_sun_year(years.sky, 1, y));
  }
  // Synthetic years come in tens that even one another out (src/place/day_scores.hpp); real ones do
  // not: one of each ten.
  for (int y = 0; plane.station->is_run() && y < series.years; ++y) {
    years.redrawn.push_back(synthetic_sun_year(years.sky, 2, 10 * y));
  }
  if (!plane.station->is_run()) return years;
  Place place = plane.station->place;
  place.day_spread_share = day_spread_share(series_months(years.sky, series));
  const SiteSky sky = site_sky(place, plane.plane());
  for (int y = 0; y < kSyntheticYears; ++y) {
    years.own_spread.push_back(synthetic_sun_year(sky, 1, y));
  }
  return years;
}

}  // namespace weather_truth
