#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "amptally/weather.hpp"

namespace amptally::io {

/// Largest weather file read, for `read_file`. Chosen: forty years of hours take 20 MB.
inline constexpr std::size_t kMaxWeatherFileBytes = std::size_t{64} << 20U;

/// The years in a weather file: EPW where its first line begins "LOCATION,", in quotes or not; else
/// CSV as described in docs/weather-file.md. Decided by what is in it, not by its name.
///
/// @param path  for messages, and the series' name where the file has none
/// @param text  the whole file
/// @throws DataError, path "FILE:LINE", for the first mistake
[[nodiscard]] WeatherSeries read_weather(const std::string& path, std::string_view text);

}  // namespace amptally::io
