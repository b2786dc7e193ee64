#include <algorithm>
#include <chrono>

#include <fmt/format.h>

#include "amptally/site.hpp"

#include "fuzz/targets.hpp"
#include "fuzz/weather_years.hpp"

namespace amptally::fuzz {
namespace {

using namespace std::chrono;

/// A row of 2023, by the day or the hour, with 1 in each column.
std::string row(std::size_t n, bool hourly, std::ptrdiff_t columns) {
  const std::size_t day = hourly ? n / 24 : n;
  const year_month_day date = sys_days(2023y / January / 1) + days(day);
  std::string text =
      fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
  if (hourly) text += fmt::format("T{:02}:00", n % 24);
  for (std::ptrdiff_t column = 1; column < columns; ++column) text += ",1";
  return text;
}

}  // namespace

void weather_csv(std::string_view text, bool thorough) {
  try_weather("weather.csv", text, thorough);
  // The first line that is no comment names the columns.
  std::size_t lines = 1;
  std::string_view header = text;
  while (header.starts_with('#') && header.find('\n') != header.npos) {
    header.remove_prefix(header.find('\n') + 1);
    ++lines;
  }
  header = header.substr(0, header.find('\n'));
  const bool hourly = header.find("time") != header.npos;
  const std::ptrdiff_t columns = 1 + std::count(header.begin(), header.end(), ',');
  constexpr std::ptrdiff_t kMostColumns = 6;  // more are refused at the header
  if (columns > kMostColumns) return;
  const std::string whole =
      filled_up(text, lines, static_cast<std::size_t>(hourly ? kHoursPerYear : kDaysPerYear),
                [&](std::size_t n) { return row(n, hourly, columns); });
  try_weather("weather.csv", whole, thorough);
}

}  // namespace amptally::fuzz
