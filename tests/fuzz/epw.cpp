#include <algorithm>
#include <chrono>
#include <vector>

#include <fmt/format.h>

#include "amptally/site.hpp"

#include "fuzz/targets.hpp"
#include "fuzz/weather_years.hpp"

namespace amptally::fuzz {
namespace {

using namespace std::chrono;

/// Dates and hours of a year, and behind them air and sun as in the sixteen columns that are read.
const std::vector<std::string>& plain_rows() {
  static const std::vector<std::string> rows = [] {
    std::vector<std::string> made;
    for (int hour = 0; hour < kHoursPerYear; ++hour) {
      const year_month_day date = sys_days(2023y / January / 1) + days(hour / 24);
      made.push_back(fmt::format("2023,{},{},{},60,A,10,5,70,101325,0,0,300,1,1,1",
                                 static_cast<unsigned>(date.month()),
                                 static_cast<unsigned>(date.day()), hour % 24 + 1));
    }
    return made;
  }();
  return rows;
}

constexpr std::string_view kHeader =
    "LOCATION,Any,-,-,-,0,43.5,-5.7,1,10\nDESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\n"
    "GROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,-\nCOMMENTS 2,-\n"
    "DATA PERIODS,1,1,Data,Sunday,1/ 1,12/31\n";

}  // namespace

void epw(std::string_view text, bool thorough) {
  // An input that is no beginning of a file stands behind a good header.
  const std::string whole =
      text.starts_with("LOCATION") ? std::string(text) : std::string(kHeader) + std::string(text);
  constexpr std::size_t kHeaderLines = 8;
  const std::vector<std::string>& rows = plain_rows();
  try_weather("weather.epw", whole, thorough);
  try_weather("weather.epw",
              filled_up(whole, kHeaderLines, rows.size(), [&](std::size_t n) { return rows[n]; }),
              thorough);
}

}  // namespace amptally::fuzz
