#include <algorithm>
#include <charconv>
#include <chrono>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/time_steps.hpp"
#include "sitefile/weather_formats.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

// Fields of an hour, by position from 0.
constexpr std::size_t kMonth = 1;
constexpr std::size_t kDay = 2;
constexpr std::size_t kHour = 3;  // 1..24: the hour that ends then
constexpr std::size_t kDryBulb = 6;
constexpr std::size_t kGlobal = 13;
constexpr std::size_t kDirect = 14;
constexpr std::size_t kDiffuse = 15;
constexpr std::size_t kFieldsUsed = 16;

constexpr std::string_view kGlobalName = "global horizontal radiation";
constexpr std::string_view kDirectName = "direct normal radiation";
constexpr std::string_view kDiffuseName = "diffuse horizontal radiation";
constexpr std::string_view kAirName = "dry bulb temperature";

// Marks of a missing value; radiation at or above its mark is missing too.
constexpr double kMissingSun = 9999;
constexpr double kMissingAir = 99.9;

// A typical year puts months of several years together, so its own years mean nothing. Any leap
// year does in their place.
constexpr std::chrono::year kAnyLeapYear{2000};

using Fields = std::vector<std::string_view>;

void read_location(TableLines& lines, WeatherSeries& series) {
  constexpr std::size_t kLocationFields = 10;
  const Fields& fields = lines.cells();
  if (fields.size() < kLocationFields) {
    lines.fail(fmt::format("LOCATION has {} fields, not the {} of an EPW file", fields.size() - 1,
                           kLocationFields - 1));
  }
  series.name = fmt::format("{} {}", fields[1], fields[3]);
  series.latitude_deg = lines.number_within(fields[6], "latitude", -90, 90, "deg");
  series.longitude_deg = lines.number_within(fields[7], "longitude", -180, 180, "deg");
  series.utc_offset_h = lines.number_within(fields[8], "time zone", kLeastUtcOffset_h,
                                            kMostUtcOffset_h, "h from UTC");
  series.has_position = true;
}

// Passes the other seven header lines.
void read_header(TableLines& lines) {
  constexpr int kHeaderLines = 8;
  while (lines.number() < kHeaderLines) {
    if (!lines.next()) lines.fail("ends within the eight header lines of an EPW file");
  }
  const Fields& fields = lines.cells();
  if (fields.size() < 3 || fields[0] != "DATA PERIODS") {
    lines.fail("the eighth header line of an EPW file begins with \"DATA PERIODS\"");
  }
  if (fields[1] != "1" || fields[2] != "1") {
    lines.fail(fmt::format("holds {} periods with {} records an hour: one year by the hour is read",
                           in_quotes(fields[1]), in_quotes(fields[2])));
  }
}

// A whole number within bounds. Faster than through a double, and three are read an hour.
int count_in(const TableLines& lines, std::string_view field, std::string_view name, int low,
             int high) {
  int value = 0;
  const char* end = field.data() + field.size();
  const auto [stopped, error] = std::from_chars(field.data(), end, value);
  if (error != std::errc{} || stopped != end || value < low || value > high) {
    lines.fail(
        fmt::format("{}: {} is not a whole number in {}..{}", name, in_quotes(field), low, high));
  }
  return value;
}

std::chrono::year_month_day date_in(const TableLines& lines, const Fields& fields) {
  const auto month = static_cast<unsigned>(count_in(lines, fields[kMonth], "month", 1, 12));
  const auto day = static_cast<unsigned>(count_in(lines, fields[kDay], "day", 1, 31));
  const auto date = kAnyLeapYear / std::chrono::month(month) / std::chrono::day(day);
  if (!date.ok()) lines.fail(fmt::format("{} has no day {}", kMonthNames[month - 1], day));
  return date;
}

double sun_in(const TableLines& lines, std::string_view field, std::string_view name) {
  const double value = lines.number_in(field, name);
  if (value < 0) lines.fail(fmt::format("{}: {} is below 0", name, on_one_line(field)));
  return value;
}

void refuse_mark(const TableLines& lines, std::string_view field, std::string_view name) {
  lines.fail(fmt::format("{} is marked as missing ({})", name, on_one_line(field)));
}

double global_in(const TableLines& lines, std::string_view field) {
  const double value = sun_in(lines, field, kGlobalName);
  if (value >= kMissingSun) refuse_mark(lines, field, kGlobalName);
  return value;
}

double air_in(const TableLines& lines, std::string_view field) {
  if (lines.number_in(field, kAirName) == kMissingAir) refuse_mark(lines, field, kAirName);
  return lines.number_within(field, kAirName, kColdestAir_c, kWarmestAir_c, "deg C");
}

// Some files leave a column out by marking every value as missing.
void drop_if_left_out(const WeatherSeries& series, std::vector<double>& values,
                      std::string_view name) {
  const auto is_missing = [](double value) { return value >= kMissingSun; };
  const auto missing = std::count_if(values.begin(), values.end(), is_missing);
  if (missing == 0) return;
  if (missing == static_cast<std::ptrdiff_t>(values.size())) return values.clear();
  const auto first = std::find_if(values.begin(), values.end(), is_missing) - values.begin();
  throw DataError(fmt::format("{}:{}", series.path, series.lines[static_cast<std::size_t>(first)]),
                  fmt::format("{} is marked as missing here, but not throughout", name));
}

}  // namespace

WeatherSeries read_epw(TableLines& lines) {
  WeatherSeries series;
  series.path = lines.path();
  read_location(lines, series);
  read_header(lines);
  StepOrder order(StepKind::typical_hours);
  std::size_t width = 0;
  while (lines.next()) {
    const Fields& fields = lines.cells();
    if (width == 0) width = std::max(fields.size(), kFieldsUsed);
    if (fields.size() != width) {
      lines.fail(fmt::format("{} fields instead of {}", fields.size(), width));
    }
    if (order.year_is_over()) lines.fail("goes on after 31 December: one year is read");
    const int hour = count_in(lines, fields[kHour], "hour", 1, kHoursPerDay) - 1;
    if (!order.take(lines, date_in(lines, fields), hour)) continue;
    series.air_temp_c.push_back(air_in(lines, fields[kDryBulb]));
    series.global_wh_m2.push_back(global_in(lines, fields[kGlobal]));
    series.direct_wh_m2.push_back(sun_in(lines, fields[kDirect], kDirectName));
    series.diffuse_wh_m2.push_back(sun_in(lines, fields[kDiffuse], kDiffuseName));
    series.lines.push_back(lines.number());
  }
  order.finish(lines);
  drop_if_left_out(series, series.direct_wh_m2, kDirectName);
  drop_if_left_out(series, series.diffuse_wh_m2, kDiffuseName);
  return series;
}

}  // namespace amptally::io
