#pragma once

#include <cstdint>
#include <span>

namespace amptally::tables {

/// Months of one row as whole numbers, so that a table is small and needs no work at start-up.
struct Figures {
  std::int16_t latitude_cdeg;        ///< 0.01 deg
  std::int16_t longitude_cdeg;       ///< 0.01 deg
  std::int16_t sun_dawh_m2_day[12];  ///< 0.01 kWh/m2/day
  std::int16_t air_temp_dc[12];      ///< 0.1 deg C
  std::int16_t rain_mm[12];
};

/// Stands for a height that is not known.
inline constexpr std::int16_t kUnknown_m = INT16_MIN;

struct NamedPlace {
  const char* id;
  const char* name;
  const char* country;
  std::int16_t elevation_m;  ///< or kUnknown_m
  Figures figures;
};

/// Standard time at a shipped place or in a time zone's own town.
struct ClockPoint {
  std::int16_t latitude_cdeg;        ///< 0.01 deg
  std::int16_t longitude_cdeg;       ///< 0.01 deg
  std::int16_t utc_offset_quarters;  ///< 15 min
  const char* zone;                  ///< as tzdata calls it
};

/// All rows of data/places.csv, in the order of the file.
[[nodiscard]] std::span<const NamedPlace> named_places();

/// Latitude and longitude between the centres of neighbouring cells.
inline constexpr int kCellSize_cdeg = 250;

/// All rows of data/climate_grid.csv, in the order of the file: by latitude, then longitude.
[[nodiscard]] std::span<const Figures> cells();

/// Mean height above the sea of each of `cells()`, m: data/cell_heights.csv.
[[nodiscard]] std::span<const std::int16_t> cell_heights_m();

/// All rows of data/clocks.csv, in the order of the file.
[[nodiscard]] std::span<const ClockPoint> clock_points();

}  // namespace amptally::tables
