#pragma once

#include "amptally/weather.hpp"

#include "sitefile/csv_lines.hpp"

/// The two kinds of weather file. Both take a reader that stands on the table's first line.
namespace amptally::io {

/// A year in the EPW format.
///
/// Source: the EnergyPlus documentation, Auxiliary Programs, "EnergyPlus Weather File (EPW) Data
/// Dictionary": eight header lines, then an hour a line, fields by position (from memory; seen to
/// fit two published files).
[[nodiscard]] WeatherSeries read_epw(TableLines& lines);

/// Years in the CSV format of docs/weather-file.md.
[[nodiscard]] WeatherSeries read_weather_csv(TableLines& lines);

/// Coldest and warmest air taken for true, deg C. Source: -89.2 (Vostok 1983) and 56.7 (Death
/// Valley 1913) are the records, World Meteorological Organization; rounded outwards (from memory).
inline constexpr double kColdestAir_c = -90;
inline constexpr double kWarmestAir_c = 60;

/// Furthest clocks from UTC, h. Source: the zones in use reach from -12 to +14.
inline constexpr double kLeastUtcOffset_h = -12;
inline constexpr double kMostUtcOffset_h = 14;

}  // namespace amptally::io
