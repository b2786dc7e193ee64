#include "sitefile/weather_file.hpp"

#include "sitefile/weather_formats.hpp"

namespace amptally::io {

WeatherSeries read_weather(const std::string& path, std::string_view text) {
  TableLines lines(path, text);
  if (!lines.next()) {
    lines.fail("is empty: expected an EPW file, or a CSV table with a header line");
  }
  const bool is_epw =
      lines.line().starts_with("LOCATION,") || lines.line().starts_with("\"LOCATION\",");
  return is_epw ? read_epw(lines) : read_weather_csv(lines);
}

}  // namespace amptally::io
