#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "amptally/weather.hpp"

/// The files that twelve monthly means are compared with, and the planes they are compared in.
namespace weather_truth {

/// Chosen: the tropics by their circles, and half way on to where winter is dark.
enum class Zone { tropics, middle, high };
inline constexpr std::array<Zone, 3> kZones = {Zone::tropics, Zone::middle, Zone::high};

/// "23.5 to 45 degrees".
[[nodiscard]] std::string zone_name(Zone zone);

/// A file, and the place with the twelve means that are worked out from it.
struct Station {
  std::shared_ptr<const amptally::WeatherSeries> series;
  amptally::Place place;

  [[nodiscard]] std::string name() const;
  [[nodiscard]] Zone zone() const;
  /// Whether the file has years that differ; else it is one year, most often a typical one.
  [[nodiscard]] bool is_run() const { return series->years > 1; }
};

/// The stations of some files, from the equator on.
[[nodiscard]] std::vector<Station> read_stations(const std::vector<std::string>& files);

/// A plane at a station that faces the equator.
struct StationPlane {
  const Station* station = nullptr;
  double tilt_deg = 0;

  [[nodiscard]] amptally::PanelPlane plane() const;
  [[nodiscard]] std::string title() const;
};

/// Azimuth of a plane that faces the equator.
[[nodiscard]] double towards_equator_deg(const amptally::Place& place);

/// Two a station: at its latitude and 15 degrees, and at 60 degrees.
[[nodiscard]] std::vector<StationPlane> planes_of(const std::vector<Station>& stations);

/// As many as the program runs unless told otherwise.
inline constexpr int kSyntheticYears = 40;

/// The sun of a file's years, and of synthetic ones.
struct SunYears {
  amptally::SiteSky sky;
  std::vector<amptally::SunYear> file;
  std::vector<amptally::SunYear> synthetic;
  std::vector<amptally::SunYear> redrawn;     ///< for a run: as many as it has, of another seed
  std::vector<amptally::SunYear> own_spread;  ///< for a run: synthetic, of its `day_spread_share`
};

[[nodiscard]] SunYears sun_years(const StationPlane& plane);

}  // namespace weather_truth
