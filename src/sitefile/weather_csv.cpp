#include <algorithm>
#include <array>
#include <chrono>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "sitefile/hint.hpp"
#include "sitefile/time_steps.hpp"
#include "sitefile/weather_formats.hpp"
#include "text/ascii.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

enum class Figure { date, time, global, direct, diffuse, air };

// A column that may be in the header. `factor` turns irradiation into Wh/m2; mean power, W/m2, is
// to be multiplied by the hours of a step too.
struct Column {
  std::string_view name;
  Figure figure;
  double factor = 1;
  bool is_power = false;
};

constexpr double kWhPerMj = 1 / 0.0036;

constexpr std::array<Column, 15> kColumns = {{
    {"date", Figure::date},
    {"time", Figure::time},
    {"global_kwh_m2", Figure::global, 1000},
    {"global_wh_m2", Figure::global},
    {"global_mj_m2", Figure::global, kWhPerMj},
    {"global_w_m2", Figure::global, 1, true},
    {"direct_kwh_m2", Figure::direct, 1000},
    {"direct_wh_m2", Figure::direct},
    {"direct_mj_m2", Figure::direct, kWhPerMj},
    {"direct_w_m2", Figure::direct, 1, true},
    {"diffuse_kwh_m2", Figure::diffuse, 1000},
    {"diffuse_wh_m2", Figure::diffuse},
    {"diffuse_mj_m2", Figure::diffuse, kWhPerMj},
    {"diffuse_w_m2", Figure::diffuse, 1, true},
    {"air_temp_c", Figure::air},
}};

const Column& column_named(const TableLines& lines, std::string_view name) {
  std::vector<std::string_view> names;
  for (const Column& column : kColumns) {
    if (column.name == name) return column;
    names.push_back(column.name);
  }
  if (name == "global" || name == "direct" || name == "diffuse") {
    lines.fail(
        fmt::format("column \"{0}\" needs its unit: {0}_kwh_m2, {0}_wh_m2, {0}_mj_m2 or "
                    "{0}_w_m2",
                    name));
  }
  lines.fail(fmt::format("unknown column {}{}", in_quotes(name),
                         hint(near_miss(name, names),
                              "columns are date or time, global_wh_m2, and perhaps "
                              "direct_wh_m2, diffuse_wh_m2, air_temp_c")));
}

// What stands in the columns of a table, in their order.
class Header {
 public:
  explicit Header(TableLines& lines) {
    refuse_other_separators(lines);
    for (const std::string_view name : lines.cells()) {
      columns_.push_back(column_named(lines, name));
      const auto same = std::count_if(columns_.begin(), columns_.end(), [&](const Column& c) {
        return c.figure == columns_.back().figure;
      });
      if (same > 1) lines.fail(fmt::format("a second column for {}", name));
    }
    check(lines);
  }

  [[nodiscard]] const std::vector<Column>& columns() const { return columns_; }
  [[nodiscard]] bool hourly() const { return has(Figure::time); }

 private:
  static void refuse_other_separators(const TableLines& lines) {
    for (const auto& [sign, name] : {std::pair{';', "semicolons"}, {'\t', "tabs"}}) {
      if (lines.line().find(sign) != std::string_view::npos) {
        lines.fail(
            fmt::format("columns are parted by {}: part them by commas, and write numbers "
                        "with a decimal point",
                        name));
      }
    }
  }

  [[nodiscard]] bool has(Figure figure) const {
    return std::any_of(columns_.begin(), columns_.end(),
                       [&](const Column& c) { return c.figure == figure; });
  }

  void check(const TableLines& lines) const {
    if (has(Figure::date) == has(Figure::time)) {
      lines.fail(has(Figure::date)
                     ? "both a column date (for days) and a column time (for hours): keep one"
                     : "no column date (for days) or time (for hours)");
    }
    if (!has(Figure::global)) {
      lines.fail("no column for the sun: global_kwh_m2, global_wh_m2, global_mj_m2 or global_w_m2");
    }
    if (!hourly() && (has(Figure::direct) || has(Figure::diffuse))) {
      lines.fail("direct and diffuse light are read by the hour only: leave those columns out");
    }
  }

  std::vector<Column> columns_;
};

bool is_comment(std::string_view line) { return line.starts_with('#') || line.starts_with("\"#"); }

// `# latitude: 43.4` and the like, above the header.
class Comments {
 public:
  void take(TableLines& lines) {
    const std::string line = text_of(lines);
    std::string_view text = std::string_view(line).substr(1);
    text = text.substr(0, text.find_last_not_of(", \t") + 1);  // spreadsheets fill up with commas
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos) return;
    const std::string_view key = trimmed(text.substr(0, colon));
    const std::string_view value = trimmed(text.substr(colon + 1));
    if (key == "name") {
      name_ = std::string(value);
    } else if (key == "latitude") {
      latitude_deg_ = lines.number_within(value, key, -90, 90, "deg");
    } else if (key == "longitude") {
      longitude_deg_ = lines.number_within(value, key, -180, 180, "deg");
    } else if (key == "utc_offset") {
      utc_offset_h_ = lines.number_within(value, key, kLeastUtcOffset_h, kMostUtcOffset_h, "h");
    } else {
      refuse_slip(lines, key);
    }
  }

  // @param lines  at the header, for the message
  void fill(const TableLines& lines, WeatherSeries& series) const {
    series.name = name_.empty() ? lines.path() : name_;
    const int known =
        latitude_deg_.has_value() + longitude_deg_.has_value() + utc_offset_h_.has_value();
    if (known == 0) return;
    if (known < 3) {
      lines.fail(
          "comments give part of the position: latitude, longitude and utc_offset belong "
          "together");
    }
    series.has_position = true;
    series.latitude_deg = *latitude_deg_;
    series.longitude_deg = *longitude_deg_;
    series.utc_offset_h = *utc_offset_h_;
  }

 private:
  // Without the quotes that spreadsheets put around cells; others are the comment's own.
  static std::string text_of(TableLines& lines) {
    if (!lines.line().starts_with('"')) return std::string(lines.line());
    return fmt::format("{}", fmt::join(lines.cells(), ","));
  }

  // Any other comment is free text, unless it looks like one of ours.
  static void refuse_slip(const TableLines& lines, std::string_view key) {
    constexpr std::array<std::string_view, 4> kKeys = {"name", "latitude", "longitude",
                                                       "utc_offset"};
    const std::string_view likely = near_miss(key, kKeys);
    if (!likely.empty()) {
      lines.fail(fmt::format("comment {}{}", in_quotes(key), hint(likely)));
    }
  }

  std::string name_;
  std::optional<double> latitude_deg_;
  std::optional<double> longitude_deg_;
  std::optional<double> utc_offset_h_;
};

// The number of some digits, or -1.
int digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (!is_digit(c)) return -1;
    value = 10 * value + (c - '0');
  }
  return value;
}

std::chrono::year_month_day date_in(const TableLines& lines, std::string_view text) {
  const bool shaped = text.size() == 10 && text[4] == '-' && text[7] == '-';
  const int year = shaped ? digits(text.substr(0, 4)) : -1;
  const int month = shaped ? digits(text.substr(5, 2)) : -1;
  const int day = shaped ? digits(text.substr(8, 2)) : -1;
  if (year < 0 || month < 0 || day < 0) {
    lines.fail(fmt::format("{} is not a date (write it like 2019-03-01)", in_quotes(text)));
  }
  const auto date = std::chrono::year(year) / month / day;
  if (!date.ok()) lines.fail(fmt::format("there is no day {}", on_one_line(text)));
  return date;
}

// Hour of "2019-03-01T05:00", 0..23; a blank does for the T, and seconds of 00 may follow.
int hour_in(const TableLines& lines, std::string_view text) {
  const bool has_seconds = text.size() == 19 && text.ends_with(":00");
  const bool shaped =
      (text.size() == 16 || has_seconds) && (text[10] == 'T' || text[10] == ' ') && text[13] == ':';
  const int hour = shaped ? digits(text.substr(11, 2)) : -1;
  const int minute = shaped ? digits(text.substr(14, 2)) : -1;
  if (hour < 0 || minute < 0) {
    lines.fail(fmt::format("{} is not a time (write it like 2019-03-01T05:00)", in_quotes(text)));
  }
  if (hour >= kHoursPerDay || minute != 0) {
    lines.fail(fmt::format("{} does not begin an hour, 00:00..23:00", in_quotes(text)));
  }
  return hour;
}

// Reads the rows below the header into a series.
class Rows {
 public:
  Rows(const Header& header, WeatherSeries& series)
      : header_(header),
        series_(series),
        order_(header.hourly() ? StepKind::hours : StepKind::days) {}

  void take(TableLines& lines) {
    const Fields& fields = fields_of(lines);
    if (!take_step(lines, fields)) return;
    for (std::size_t i = 0; i < fields.size(); ++i) {
      const Column& column = header_.columns()[i];
      if (auto* values = values_of(column.figure)) {
        values->push_back(value_in(lines, fields[i], column));
      }
    }
    series_.lines.push_back(lines.number());
  }

  void finish(const TableLines& lines) const { order_.finish(lines); }

 private:
  using Fields = std::vector<std::string_view>;

  [[nodiscard]] const Fields& fields_of(TableLines& lines) const {
    if (is_comment(lines.line())) lines.fail("comments stand above the header line");
    if (trimmed(lines.line()).empty()) lines.fail("is blank");
    const Fields& fields = lines.cells();
    const std::size_t wanted = header_.columns().size();
    if (fields.size() != wanted) {
      lines.fail(fmt::format("{} columns where the header has {}{}", fields.size(), wanted,
                             fields.size() > wanted ? " (a decimal comma? write a point)" : ""));
    }
    return fields;
  }

  bool take_step(const TableLines& lines, const Fields& fields) {
    const auto is_step = [](const Column& c) {
      return c.figure == Figure::date || c.figure == Figure::time;
    };
    const auto& columns = header_.columns();
    const auto at = std::find_if(columns.begin(), columns.end(), is_step) - columns.begin();
    const std::string_view text = fields[static_cast<std::size_t>(at)];
    if (!header_.hourly()) return order_.take(lines, date_in(lines, text), 0);
    const int hour = hour_in(lines, text);
    return order_.take(lines, date_in(lines, text.substr(0, 10)), hour);
  }

  std::vector<double>* values_of(Figure figure) {
    switch (figure) {
      case Figure::global:
        return &series_.global_wh_m2;
      case Figure::direct:
        return &series_.direct_wh_m2;
      case Figure::diffuse:
        return &series_.diffuse_wh_m2;
      case Figure::air:
        return &series_.air_temp_c;
      case Figure::date:
      case Figure::time:
        break;
    }
    return nullptr;
  }

  [[nodiscard]] double value_in(const TableLines& lines, std::string_view field,
                                const Column& column) const {
    if (column.figure == Figure::air) {
      return lines.number_within(field, column.name, kColdestAir_c, kWarmestAir_c, "deg C");
    }
    const double value = lines.number_in(field, column.name);
    if (value < 0) {
      lines.fail(fmt::format("{}: {} is below 0 (an instrument's offset at night? write 0)",
                             column.name, on_one_line(field)));
    }
    const int step_h = header_.hourly() ? 1 : kHoursPerDay;
    return value * column.factor * (column.is_power ? step_h : 1);
  }

  const Header& header_;
  WeatherSeries& series_;
  StepOrder order_;
};

}  // namespace

WeatherSeries read_weather_csv(TableLines& lines) {
  WeatherSeries series;
  series.path = lines.path();
  Comments comments;
  while (trimmed(lines.line()).empty() || is_comment(lines.line())) {
    if (!trimmed(lines.line()).empty()) comments.take(lines);
    if (!lines.next()) lines.fail("no header line follows the comments");
  }
  const Header header(lines);
  comments.fill(lines, series);
  series.hourly = header.hourly();
  Rows rows(header, series);
  while (lines.next()) rows.take(lines);
  rows.finish(lines);
  series.years = static_cast<int>(series.global_wh_m2.size() / series.steps_a_year());
  return series;
}

}  // namespace amptally::io
