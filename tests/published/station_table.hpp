#pragma once

#include <array>
#include <istream>
#include <string>
#include <vector>

#include "amptally/site.hpp"

namespace amptally::published {

/// The fields of one line of CSV without quotes inside quotes.
inline std::vector<std::string> fields_of(const std::string& line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  return fields;
}

/// What station_variability.csv has of a station's months.
struct MeasuredStation {
  std::string name;
  double latitude_deg = 0;
  double longitude_deg = 0;
  double elevation_m = 0;
  bool from_satellite = false;
  Monthly sun_kwh_m2_day{};
  Monthly clearness{};
  Monthly between_years_share{};  ///< standard deviation of a month's mean
  Monthly day_spread_share{};     ///< standard deviation of a day over the month's mean
  Monthly day_to_day{};           ///< correlation of a day with the day before
};

inline std::vector<MeasuredStation> measured_stations(std::istream& in) {
  std::vector<MeasuredStation> stations;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with('#') || line.starts_with("place,")) continue;
    const std::vector<std::string> field = fields_of(line);
    if (stations.empty() || stations.back().name != field[0]) {
      stations.push_back({.name = field[0],
                          .latitude_deg = std::stod(field[1]),
                          .longitude_deg = std::stod(field[2]),
                          .elevation_m = std::stod(field[3]),
                          .from_satellite = field[4].find("satellite") != std::string::npos});
    }
    MeasuredStation& station = stations.back();
    const std::size_t m = std::stoul(field[5]) - 1;
    station.sun_kwh_m2_day.at(m) = std::stod(field[7]);
    station.clearness.at(m) = std::stod(field[8]);
    station.between_years_share.at(m) = std::stod(field[9]) / 100;
    station.day_spread_share.at(m) = std::stod(field[12]) / 100;
    station.day_to_day.at(m) = std::stod(field[13]);
  }
  return stations;
}

}  // namespace amptally::published
