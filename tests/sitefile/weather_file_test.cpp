#include "sitefile/weather_file.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <iterator>
#include <numeric>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "published/reference_files.hpp"
#include "sitefile/file_text.hpp"

using namespace amptally;
using namespace amptally::io;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using Lines = std::vector<std::string>;

std::string joined(const Lines& lines, const std::string& end = "\n") {
  std::string text;
  for (const std::string& line : lines) text += line + end;
  return text;
}

// Sun of a day, kWh/m2, and of an hour, Wh/m2: of no place, but no two days are alike.
double day_sun_kwh_m2(std::chrono::sys_days day) {
  return 3 + 2 * std::sin(0.017 * static_cast<double>(day.time_since_epoch().count()));
}

double hour_sun_wh_m2(std::chrono::sys_days day, int hour) {
  return std::max(0.0, 120 * day_sun_kwh_m2(day) * std::sin(0.2618 * (hour - 5.5)));
}

template <typename Action>
void each_day(int first_year, int last_year, const Action& action) {
  using namespace std::chrono;
  const sys_days end = year(last_year) / December / 31;
  for (sys_days day = year(first_year) / January / 1; day <= end; day += days(1)) action(day);
}

std::string date_text(std::chrono::sys_days day) {
  const std::chrono::year_month_day date(day);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

// A daily table; line 1 is the header.
Lines daily(int first_year, int last_year, const std::string& column = "global_kwh_m2",
            double factor = 1) {
  Lines lines = {"date," + column};
  each_day(first_year, last_year, [&](std::chrono::sys_days day) {
    lines.push_back(fmt::format("{},{:.9g}", date_text(day), factor * day_sun_kwh_m2(day)));
  });
  return lines;
}

// An hourly table with every column; line 1 is the header.
Lines hourly(int year, const std::string& unit = "wh_m2", double factor = 1) {
  Lines lines = {fmt::format("time,global_{0},direct_{0},diffuse_{0},air_temp_c", unit)};
  each_day(year, year, [&](std::chrono::sys_days day) {
    for (int hour = 0; hour < 24; ++hour) {
      const double sun = factor * hour_sun_wh_m2(day, hour);
      lines.push_back(fmt::format("{}T{:02}:00,{:.9g},{:.9g},{:.9g},{}", date_text(day), hour, sun,
                                  sun / 2, sun / 4, hour - 5));
    }
  });
  return lines;
}

constexpr int kEpwHeaderLines = 8;

// An EPW file of the year, with 29 February in a leap year; line 9 is the first hour.
Lines epw(int year) {
  Lines lines = {"LOCATION,Somewhere,-,XYZ,none,000000,43.40,-5.90,1.0,120.0",
                 "DESIGN CONDITIONS,0",
                 "TYPICAL/EXTREME PERIODS,0",
                 "GROUND TEMPERATURES,0",
                 "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
                 "COMMENTS 1,made up",
                 "COMMENTS 2,",
                 "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31"};
  each_day(year, year, [&](std::chrono::sys_days day) {
    const std::chrono::year_month_day date(day);
    for (int hour = 0; hour < 24; ++hour) {
      const double sun = hour_sun_wh_m2(day, hour);
      // Typical years take each month from a year of its own.
      lines.push_back(fmt::format(
          "{},{},{},{},60,?9?9?9,{:.1f},5.0,80,101000,0,0,300,{:.0f},{:.0f},{:.0f},0,0,0,0,0,2.0",
          1980 + static_cast<unsigned>(date.month()) * 7 % 20, static_cast<unsigned>(date.month()),
          static_cast<unsigned>(date.day()), hour + 1, 10.0 + hour / 10.0, sun, sun / 2, sun / 4));
    }
  });
  return lines;
}

WeatherSeries read(const Lines& lines) { return read_weather("own.csv", joined(lines)); }

// The message of the mistake in a text, with its file and line; "" when it is accepted.
std::string mistake(const std::string& text) {
  try {
    (void)read_weather("own.csv", text);
  } catch (const DataError& e) {
    return e.what();
  }
  return "";
}

std::string mistake(const Lines& lines) { return mistake(joined(lines)); }

// What the two versions of the test library call differently.
void check_contains(const std::string& text, const std::string& part) {
  CAPTURE(text, part);
  CHECK(text.find(part) != std::string::npos);
}

// `lines` with the line of this number, from 1, put in another's place.
Lines with_line(Lines lines, std::size_t number, const std::string& line) {
  lines.at(number - 1) = line;
  return lines;
}

Lines without_lines(Lines lines, std::size_t from, std::size_t to) {
  lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(from - 1),
              lines.begin() + static_cast<std::ptrdiff_t>(to));
  return lines;
}

// An EPW hour with one of its fields, from 1, changed.
std::string with_field(const std::string& line, int field, const std::string& value) {
  std::stringstream in(line);
  std::string out;
  std::string part;
  for (int i = 1; std::getline(in, part, ','); ++i) {
    out += (i > 1 ? "," : "") + (i == field ? value : part);
  }
  return out;
}

Lines epw_with(int line, int field, const std::string& value) {
  Lines lines = epw(2019);
  std::string& hour = lines.at(static_cast<std::size_t>(line - 1));
  hour = with_field(hour, field, value);
  return lines;
}

Lines with_field_throughout(Lines lines, int field, const std::string& value) {
  for (std::size_t i = kEpwHeaderLines; i < lines.size(); ++i) {
    lines[i] = with_field(lines[i], field, value);
  }
  return lines;
}

}  // namespace

TEST_CASE("a daily table is read", "[weather_file]") {
  const WeatherSeries series = read(daily(2019, 2019));
  CHECK_FALSE(series.hourly);
  CHECK(series.years == 1);
  CHECK(series.name == "own.csv");
  CHECK(series.path == "own.csv");
  CHECK_FALSE(series.has_position);
  REQUIRE(series.global_wh_m2.size() == 365);
  CHECK(series.direct_wh_m2.empty());
  CHECK(series.diffuse_wh_m2.empty());
  CHECK(series.air_temp_c.empty());
  REQUIRE(series.lines.size() == 365);
  CHECK(series.lines.front() == 2);
  CHECK(series.lines.back() == 366);
  const std::chrono::sys_days second = std::chrono::year(2019) / 1 / 2;
  CHECK_THAT(series.global_wh_m2[1], WithinRel(1000 * day_sun_kwh_m2(second), 1e-8));
}

TEST_CASE("an hourly table is read with all its columns", "[weather_file]") {
  const WeatherSeries series = read(hourly(2019));
  CHECK(series.hourly);
  REQUIRE(series.global_wh_m2.size() == 8760);
  REQUIRE(series.direct_wh_m2.size() == 8760);
  REQUIRE(series.diffuse_wh_m2.size() == 8760);
  REQUIRE(series.air_temp_c.size() == 8760);
  const std::chrono::sys_days last = std::chrono::year(2019) / 12 / 31;
  const double noon = hour_sun_wh_m2(last, 12);
  const std::size_t i = 364 * 24 + 12;
  CHECK_THAT(series.global_wh_m2[i], WithinRel(noon, 1e-8));
  CHECK_THAT(series.direct_wh_m2[i], WithinRel(noon / 2, 1e-8));
  CHECK_THAT(series.diffuse_wh_m2[i], WithinRel(noon / 4, 1e-8));
  CHECK(series.air_temp_c[i] == 7);
  CHECK(series.lines[i] == 364 * 24 + 12 + 2);
}

TEST_CASE("a weather table may have its columns in any order and its times written three ways",
          "[weather_file]") {
  Lines lines = {"air_temp_c , global_wh_m2,time"};
  each_day(2019, 2019, [&](std::chrono::sys_days day) {
    for (int hour = 0; hour < 24; ++hour) {
      const std::array<const char*, 3> forms = {"{} {:02}:00", "{}T{:02}:00", "{} {:02}:00:00"};
      const auto form = fmt::runtime(forms[static_cast<std::size_t>(hour) % 3]);
      lines.push_back(fmt::format("-3.5, {} ,", hour) + fmt::format(form, date_text(day), hour));
    }
  });
  const WeatherSeries series = read(lines);
  REQUIRE(series.global_wh_m2.size() == 8760);
  CHECK(series.global_wh_m2[17] == 17);
  CHECK(series.air_temp_c[17] == -3.5);
}

TEST_CASE("the same year in any unit is the same series", "[weather_file][property]") {
  const WeatherSeries by_day = read(daily(2019, 2019));
  const WeatherSeries by_hour = read(hourly(2019));
  // 1 kWh = 1000 Wh = 3.6 MJ; a mean of 1 W over a day is 24 Wh, over an hour 1 Wh.
  for (const auto& [column, a_kwh] :
       {std::pair{"wh_m2", 1000.0}, {"mj_m2", 3.6}, {"w_m2", 1000.0 / 24}}) {
    CAPTURE(column);
    const WeatherSeries other = read(daily(2019, 2019, std::string("global_") + column, a_kwh));
    for (std::size_t d = 0; d < 365; ++d) {
      REQUIRE_THAT(other.global_wh_m2[d], WithinRel(by_day.global_wh_m2[d], 1e-7));
    }
  }
  for (const auto& [unit, a_wh] : {std::pair{"kwh_m2", 0.001}, {"mj_m2", 0.0036}, {"w_m2", 1.0}}) {
    CAPTURE(unit);
    const WeatherSeries other = read(hourly(2019, unit, a_wh));
    for (std::size_t h = 0; h < 8760; ++h) {
      REQUIRE_THAT(other.global_wh_m2[h], WithinRel(by_hour.global_wh_m2[h], 1e-7));
      REQUIRE_THAT(other.direct_wh_m2[h], WithinRel(by_hour.direct_wh_m2[h], 1e-7));
      REQUIRE_THAT(other.diffuse_wh_m2[h], WithinRel(by_hour.diffuse_wh_m2[h], 1e-7));
    }
  }
}

TEST_CASE("29 February is left out, there or not", "[weather_file]") {
  const Lines leap = daily(2020, 2020);
  const WeatherSeries with = read(leap);
  REQUIRE(with.global_wh_m2.size() == 365);
  CHECK(with.lines[58] == 60);  // 28 February
  CHECK(with.lines[59] == 62);  // 1 March
  const WeatherSeries without = read(without_lines(leap, 61, 61));
  CHECK(without.global_wh_m2 == with.global_wh_m2);

  const Lines leap_hours = hourly(2020);
  const std::size_t first = 2 + 59 * 24;
  CHECK(read(leap_hours).global_wh_m2.size() == 8760);
  CHECK(read(without_lines(leap_hours, first, first + 23)).global_wh_m2 ==
        read(leap_hours).global_wh_m2);
  CHECK(mistake(without_lines(leap_hours, first + 5, first + 5)) ==
        "own.csv:1423: 29 February 2020 06:00 follows 29 February 2020 04:00: "
        "29 February 2020 05:00 is missing");
}

TEST_CASE("a weather table may have several years, one after another", "[weather_file]") {
  const WeatherSeries series = read(daily(2019, 2021));
  CHECK(series.years == 3);
  REQUIRE(series.global_wh_m2.size() == 3 * 365);
  const std::chrono::sys_days day = std::chrono::year(2021) / 3 / 1;
  CHECK_THAT(series.global_wh_m2[2 * 365 + 59], WithinRel(1000 * day_sun_kwh_m2(day), 1e-8));
}

TEST_CASE("comments above the header give name and position", "[weather_file]") {
  Lines lines = daily(2019, 2019);
  const Lines comments = {"# name: Behind the barn, 2019",
                          "# measured by hand: with care",
                          "",
                          "#latitude: 43.4,,",
                          "# longitude: -5.9",
                          "# utc_offset: 1"};
  lines.insert(lines.begin(), comments.begin(), comments.end());
  const WeatherSeries series = read(lines);
  CHECK(series.name == "Behind the barn, 2019");
  CHECK(series.has_position);
  CHECK(series.latitude_deg == 43.4);
  CHECK(series.longitude_deg == -5.9);
  CHECK(series.utc_offset_h == 1);
  CHECK(series.lines.front() == 8);
}

TEST_CASE("line ends, byte order marks and last lines of every kind change nothing",
          "[weather_file]") {
  const Lines lines = daily(2019, 2019);
  const std::vector<double> expected = read(lines).global_wh_m2;
  std::string unfinished = joined(lines);
  unfinished.pop_back();
  for (const std::string& text : {joined(lines, "\r\n"), unfinished, joined(lines) + "\n\r\n",
                                  "\xEF\xBB\xBF" + joined(lines)}) {
    CHECK(read_weather("own.csv", text).global_wh_m2 == expected);
  }
  std::string epw_text = joined(epw(2019), "\r\n");
  CHECK(read_weather("a.epw", epw_text).global_wh_m2.size() == 8760);
}

TEST_CASE("a table with its cells in quotes is the same series", "[weather_file][property]") {
  const auto in_quotes = [](Lines lines, std::size_t from) {
    for (std::size_t i = from; i < lines.size(); ++i) {
      std::string quoted = "\"";
      for (const char c : lines[i]) quoted += c == ',' ? "\",\"" : std::string(1, c);
      lines[i] = quoted + '"';
    }
    return lines;
  };
  const auto check_same = [](const WeatherSeries& one, const WeatherSeries& other) {
    CHECK(one.global_wh_m2 == other.global_wh_m2);
    CHECK(one.direct_wh_m2 == other.direct_wh_m2);
    CHECK(one.air_temp_c == other.air_temp_c);
    CHECK(one.name == other.name);
    CHECK(one.latitude_deg == other.latitude_deg);
    CHECK(one.lines == other.lines);
  };
  Lines lines = hourly(2019);
  lines.insert(lines.begin(), {"# name: Barn, the \"upper\" one", "# latitude: 43.4",
                               "# longitude: -5.9", "# utc_offset: 1"});
  const WeatherSeries plain = read(lines);
  CHECK(plain.name == "Barn, the \"upper\" one");
  check_same(read(in_quotes(lines, 4)), plain);

  // A spreadsheet that puts all cells in quotes does so with comments, and fills them up.
  Lines all = in_quotes(lines, 1);
  all[0] = R"("# name: Barn"," the ""upper"" one","","")";
  check_same(read(all), plain);
  check_same(read_weather("own.csv", joined(all, "\r\n")), plain);

  check_same(read(in_quotes(epw(2019), 0)), read(epw(2019)));
  const Lines named = with_line(
      epw(2019), 1, R"(LOCATION,"Some, where",-,"X ""Y""",none,000000,43.40,-5.90,1.0,120.0)");
  CHECK(read(named).name == "Some, where X \"Y\"");
}

TEST_CASE("a quote astray in a table is told with the line it opens in", "[weather_file][errors]") {
  const Lines days = daily(2019, 2019);
  const auto row_3 = [&](const std::string& row) { return mistake(with_line(days, 3, row)); };
  check_contains(row_3("\"2019-01-02,1.5"), "own.csv:3: a quote is not closed");
  check_contains(row_3("\"2019-01-02\"x,1.5"), "own.csv:3: a quote is not closed, or text follows");
  CHECK(row_3("2019-01-02,1\"5") == R"(own.csv:3: global_kwh_m2: "1"5" is not a number)");
  CHECK(row_3("2019-01-02,\"1,5\"") == R"(own.csv:3: global_kwh_m2: "1,5" is not a number)");
  // A cell of two lines: told where its line begins, and the lines after it keep their numbers.
  CHECK(row_3("2019-01-02,\"1\n5\"") == R"(own.csv:3: global_kwh_m2: "1\n5" is not a number)");
  Lines two = with_line(days, 1, "date,global_kwh_m2,\"air_temp_c\"");
  for (std::size_t i = 1; i < two.size(); ++i) two[i] += ",\"7\"";
  two.insert(two.begin(), "\"# two\nlines\"");
  two.at(3) = "2019-01-02,x,7";
  check_contains(mistake(two), "own.csv:5: global_kwh_m2: \"x\"");
  // In a comment of one's own, a quote is a quote.
  CHECK(mistake("# a pipe, \"wide\n" + joined(days)).empty());
}

TEST_CASE("mistakes in a table are told with their line", "[weather_file][errors]") {
  const Lines days = daily(2019, 2019);
  const auto header = [](const std::string& text) { return mistake(text + "\n2019-01-01,1\n"); };
  const auto row_3 = [&](const std::string& row) { return mistake(with_line(days, 3, row)); };

  SECTION("no table at all") {
    check_contains(mistake(""), "own.csv:1: is empty");
    check_contains(mistake("\n \n"), "own.csv:1: is empty");
    check_contains(mistake("# name: x\n"), "own.csv:1: no header line");
    check_contains(mistake("date,global_kwh_m2\n"), "own.csv:1: no values follow");
    check_contains(mistake(std::string("\x7f"
                                       "ELF\x02\0\0\1,\0",
                                       10)),
                   "own.csv:1: is not text");
    check_contains(mistake("\x89PNG\x1a,\xff\xfe\n"), "own.csv:1: unknown column \"\x89PNG\\u001a");
  }
  SECTION("header") {
    check_contains(header("date;global_kwh_m2"), "own.csv:1: columns are parted by semicolons");
    check_contains(header("date\tglobal_kwh_m2"), "parted by tabs");
    CHECK(header("date,globl_kwh_m2") ==
          "own.csv:1: unknown column \"globl_kwh_m2\" (did you mean global_kwh_m2?)");
    check_contains(header("date,wind"), "unknown column \"wind\" (columns are date");
    check_contains(header("date,global"), "needs its unit: global_kwh_m2");
    check_contains(header("date,time,global_wh_m2"), "both a column date");
    check_contains(header("global_wh_m2"), "no column date (for days) or time");
    check_contains(header("date,air_temp_c"), "no column for the sun");
    check_contains(header("date,global_wh_m2,direct_wh_m2"), "by the hour only");
    check_contains(header("date,global_wh_m2,global_kwh_m2"), "second column for global_kwh_m2");
    check_contains(header("date,global_wh_m2,"), "unknown column \"\"");
  }
  SECTION("comments") {
    CHECK(header("# lattitude: 43\ndate,global_kwh_m2") ==
          "own.csv:1: comment \"lattitude\" (did you mean latitude?)");
    check_contains(header("# latitude: 43.4 N\n"), "latitude: \"43.4 N\" is not a number");
    check_contains(header("# latitude: 430\n"), "own.csv:1: latitude: 430 is not in -90..90 deg");
    check_contains(header("# longitude: 181\n"), "is not in -180..180 deg");
    check_contains(header("# utc_offset: 60\n"), "utc_offset: 60 is not in -12..14 h");
    check_contains(header("# latitude: 43\ndate,global_kwh_m2"), "own.csv:2: comments give part");
    check_contains(row_3("# cloudy"), "own.csv:3: comments stand above");
  }
  SECTION("values") {
    CHECK(row_3("2019-01-02,-1") ==
          "own.csv:3: global_kwh_m2: -1 is below 0 (an instrument's offset at night? write 0)");
    CHECK(row_3("2019-01-02,much") == "own.csv:3: global_kwh_m2: \"much\" is not a number");
    CHECK(row_3("2019-01-02,1.5x") == "own.csv:3: global_kwh_m2: \"1.5x\" is not a number");
    CHECK(row_3("2019-01-02,inf") == "own.csv:3: global_kwh_m2: \"inf\" is not a finite number");
    CHECK(row_3("2019-01-02,nan") == "own.csv:3: global_kwh_m2: \"nan\" is not a finite number");
    CHECK(row_3("2019-01-02,1e999") == "own.csv:3: global_kwh_m2: \"1e999\" is too large a number");
    const auto near_0 = [](const std::string& number) {
      return "own.csv:3: global_kwh_m2: \"" + number +
             "\" is too near 0 to be told from it (write 0)";
    };
    for (const std::string number : {"1e-400", "1e-320", "4.9E-324"}) {
      CHECK(row_3("2019-01-02," + number) == near_0(number));
    }
    const std::string long_zero = "0." + std::string(400, '0') + "1";
    check_contains(row_3("2019-01-02," + long_zero), "is too near 0");
    CHECK(row_3("2019-01-02,0.0").empty());
    CHECK(row_3("2019-01-02,") == "own.csv:3: global_kwh_m2 is missing");
    CHECK(row_3("2019-01-02,1,5") ==
          "own.csv:3: 3 columns where the header has 2 (a decimal comma? write a point)");
    CHECK(row_3("2019-01-02") == "own.csv:3: 1 columns where the header has 2");
    CHECK(row_3("") == "own.csv:3: is blank");
    check_contains(mistake(with_line(hourly(2019), 40, "2019-01-02T14:00,1,1,1,300")),
                   "own.csv:40: air_temp_c: 300 is not in -90..60 deg C");
  }
  SECTION("dates") {
    CHECK(row_3("02/01/2019,1") ==
          "own.csv:3: \"02/01/2019\" is not a date (write it like 2019-03-01)");
    CHECK(row_3("2019-02-30,1") == "own.csv:3: there is no day 2019-02-30");
    CHECK(row_3("2019-13-01,1") == "own.csv:3: there is no day 2019-13-01");
    const auto hour_3 = [&](const std::string& time) {
      return mistake(with_line(hourly(2019), 3, time + ",0,0,0,0"));
    };
    check_contains(hour_3("2019-01-01"), "own.csv:3: \"2019-01-01\" is not a time");
    check_contains(hour_3("2019-01-01T01:00Z"), "is not a time (write it like");
    check_contains(hour_3("2019-01-01T24:00"), "does not begin an hour");
    check_contains(hour_3("2019-01-01T01:30"), "does not begin an hour");
  }
}

TEST_CASE("days that do not follow one another are told", "[weather_file][errors]") {
  const Lines days = daily(2019, 2020);
  CHECK(mistake(without_lines(days, 61, 61)) ==
        "own.csv:61: 2 March 2019 follows 28 February 2019: 1 March 2019 is missing");
  CHECK(mistake(without_lines(days, 61, 63)) ==
        "own.csv:61: 4 March 2019 follows 28 February 2019: 1 March 2019 to 3 March 2019 are "
        "missing");
  CHECK(mistake(with_line(days, 61, days[59])) ==
        "own.csv:61: 28 February 2019 comes twice (hourly values stand under a column \"time\")");
  CHECK(mistake(with_line(days, 61, days[50])) ==
        "own.csv:61: 19 February 2019 follows 28 February 2019: out of order");
  // The whole of 29 February may be left out of 2020, but not the day before too.
  check_contains(mistake(without_lines(days, 2 + 365 + 58, 2 + 365 + 59)),
                 "28 February 2020 to 29 February 2020 are missing");
  Lines jump = daily(2019, 2019);
  const Lines later = daily(2021, 2021);
  jump.insert(jump.end(), later.begin() + 1, later.end());
  CHECK(mistake(jump) ==
        "own.csv:367: 1 January 2021 follows 31 December 2019: 1 January 2020 to 31 December 2020 "
        "are missing");
  CHECK(mistake(without_lines(days, 2, 2)) ==
        "own.csv:2: begins with 2 January 2019: whole years are read, from 1 January");
  CHECK(mistake(without_lines(days, 732, 732)) ==
        "own.csv:731: ends with 30 December 2020: whole years are read, to the end of 31 December");
}

TEST_CASE("hours that do not follow one another are told", "[weather_file][errors]") {
  const Lines hours = hourly(2019);
  CHECK(mistake(without_lines(hours, 5, 5)) ==
        "own.csv:5: 1 January 2019 04:00 follows 1 January 2019 02:00: 1 January 2019 03:00 is "
        "missing");
  CHECK(mistake(with_line(hours, 5, hours[3])) == "own.csv:5: 1 January 2019 02:00 comes twice");
  check_contains(mistake(without_lines(hours, 8761, 8761)),
                 "own.csv:8760: ends with 31 December 2019 22:00");
  check_contains(mistake(without_lines(hours, 2, 2)), "begins with 1 January 2019 01:00");
}

TEST_CASE("an EPW year is known by its first line and read", "[weather_file]") {
  const WeatherSeries series = read_weather("barn.txt", joined(epw(2019)));
  CHECK(series.name == "Somewhere XYZ");
  CHECK(series.path == "barn.txt");
  CHECK(series.has_position);
  CHECK(series.latitude_deg == 43.4);
  CHECK(series.longitude_deg == -5.9);
  CHECK(series.utc_offset_h == 1);
  CHECK(series.hourly);
  CHECK(series.years == 1);
  REQUIRE(series.global_wh_m2.size() == 8760);
  REQUIRE(series.direct_wh_m2.size() == 8760);
  REQUIRE(series.diffuse_wh_m2.size() == 8760);
  // The hour that ends at 13 is the one from 12 on.
  const double noon = hour_sun_wh_m2(std::chrono::year(2019) / 1 / 1, 12);
  CHECK_THAT(series.global_wh_m2[12], WithinAbs(noon, 0.5));
  CHECK_THAT(series.direct_wh_m2[12], WithinAbs(noon / 2, 0.5));
  CHECK_THAT(series.diffuse_wh_m2[12], WithinAbs(noon / 4, 0.5));
  CHECK(series.air_temp_c[12] == 11.2);
  CHECK(series.lines[12] == 21);
}

TEST_CASE("29 February is left out of an EPW year of 8784 hours", "[weather_file]") {
  const Lines lines = epw(2020);
  REQUIRE(lines.size() == kEpwHeaderLines + 8784);
  const WeatherSeries series = read(lines);
  REQUIRE(series.global_wh_m2.size() == 8760);
  CHECK(series.lines[59 * 24] == kEpwHeaderLines + 60 * 24 + 1);
}

TEST_CASE("columns an EPW file leaves out throughout are absent", "[weather_file]") {
  const WeatherSeries no_direct = read(with_field_throughout(epw(2019), 15, "9999"));
  CHECK(no_direct.direct_wh_m2.empty());
  CHECK(no_direct.diffuse_wh_m2.size() == 8760);
  const WeatherSeries no_diffuse = read(with_field_throughout(epw(2019), 16, "9999"));
  CHECK(no_diffuse.direct_wh_m2.size() == 8760);
  CHECK(no_diffuse.diffuse_wh_m2.empty());
}

TEST_CASE("mistakes in an EPW file are told with their line", "[weather_file][errors]") {
  const Lines lines = epw(2019);
  check_contains(mistake("LOCATION,x,y\n"), "own.csv:1: LOCATION has 2 fields, not the 9");
  check_contains(mistake(with_line(lines, 1, "LOCATION,a,b,c,d,e,143,0,0,0")),
                 "own.csv:1: latitude: 143 is not in -90..90 deg");
  check_contains(mistake(with_line(lines, 1, "LOCATION,a,b,c,d,e,43,east,0,0")),
                 "own.csv:1: longitude: \"east\" is not a number");
  check_contains(mistake(Lines(lines.begin(), lines.begin() + 4)),
                 "own.csv:4: ends within the eight header lines");
  check_contains(mistake(without_lines(lines, 4, 4)), "own.csv:8: the eighth header line");
  check_contains(mistake(with_line(lines, 8, "DATA PERIODS,1,4,Data,Sunday,1/1,12/31")),
                 "own.csv:8: holds \"1\" periods with \"4\" records an hour");
  check_contains(mistake(Lines(lines.begin(), lines.begin() + 8)), "own.csv:8: no values");
  CHECK(mistake(epw_with(20, 14, "9999")) ==
        "own.csv:20: global horizontal radiation is marked as missing (9999)");
  CHECK(mistake(epw_with(20, 15, "9999")) ==
        "own.csv:20: direct normal radiation is marked as missing here, but not throughout");
  CHECK(mistake(epw_with(20, 16, "99990")) ==
        "own.csv:20: diffuse horizontal radiation is marked as missing here, but not throughout");
  CHECK(mistake(epw_with(20, 7, "99.9")) ==
        "own.csv:20: dry bulb temperature is marked as missing (99.9)");
  check_contains(mistake(epw_with(20, 7, "-120")), "-120 is not in -90..60 deg C");
  check_contains(mistake(epw_with(20, 14, "-1")), "own.csv:20: global horizontal radiation: -1");
  check_contains(mistake(epw_with(20, 16, "")), "diffuse horizontal radiation is missing");
  check_contains(mistake(epw_with(20, 4, "25")), "hour: \"25\" is not a whole number in 1..24");
  check_contains(mistake(epw_with(20, 4, "0")), "hour: \"0\" is not a whole number in 1..24");
  check_contains(mistake(epw_with(20, 2, "0")), "month: \"0\"");
  Lines june = lines;
  june[8 + 151 * 24] = with_field(june[8 + 151 * 24], 3, "31");
  check_contains(mistake(june), "own.csv:3633: June has no day 31");
  CHECK(mistake(without_lines(lines, 20, 20)) ==
        "own.csv:20: 1 January hour 13 follows 1 January hour 11: 1 January hour 12 is missing");
  check_contains(mistake(with_line(lines, 20, lines[18])),
                 "own.csv:20: 1 January hour 11 comes twice");
  check_contains(mistake(with_line(lines, 20, "1,2,3")), "own.csv:20: 3 fields instead of 22");
  check_contains(mistake(with_line(lines, 9, "1980,1,1,1,60,?")),
                 "own.csv:9: 6 fields instead of 16");
  Lines longer = lines;
  longer.push_back(lines[8]);
  check_contains(mistake(longer), "own.csv:8769: goes on after 31 December");
  check_contains(mistake(Lines(lines.begin(), lines.begin() + 1000)),
                 "own.csv:1000: ends with 11 February hour 8");
}

TEST_CASE("hourly air is taken as it stands, daily air with the mean year's swing",
          "[weather_file]") {
  const WeatherSeries hours = read(hourly(2019));
  const SiteSky sky = site_sky(place_of(hours, {}), {.tilt_deg = 30, .azimuth_deg = 180});
  const SunYear year = series_sun_year(sky, hours, 0);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    REQUIRE(year.air_temp_c[h] == static_cast<double>(h % 24) - 5);
  }
  CHECK_THAT(year.days[100].air_temp_c, WithinAbs(6.5, 1e-12));  // -5..18

  Lines lines = daily(2019, 2019);
  lines[0] += ",air_temp_c";
  for (std::size_t d = 1; d < lines.size(); ++d) lines[d] += d == 101 ? ",30" : ",6.5";
  const SunYear mild = series_sun_year(sky, read(lines), 0);
  const auto swing_c = [](const SunYear& of, std::ptrdiff_t d) {
    const auto [least, most] =
        std::minmax_element(of.air_temp_c.begin() + d * 24, of.air_temp_c.begin() + (d + 1) * 24);
    return *most - *least;
  };
  CHECK_THAT(mild.days[100].air_temp_c, WithinAbs(30, 1e-9));
  CHECK_THAT(mild.days[99].air_temp_c, WithinAbs(6.5, 1e-9));
  CHECK(swing_c(mild, 100) > 0);
  CHECK_THAT(swing_c(mild, 100), WithinAbs(swing_c(mean_sun_year(sky), 100), 1e-9));
}

TEST_CASE("sun above what the air lets in is told with its line", "[weather_file][errors]") {
  Lines lines = with_field_throughout(epw(2019), 14, "0");
  lines = with_field_throughout(with_field_throughout(lines, 15, "0"), 16, "0");
  lines[8 + 172 * 24 + 12] = with_field(lines[8 + 172 * 24 + 12], 14, "1900");
  const WeatherSeries series = read(lines);
  const Place place = place_of(series, {});
  const SiteSky sky = site_sky(place, {.tilt_deg = 30, .azimuth_deg = 180});
  try {
    (void)series_sun_year(sky, series, 0);
    FAIL("accepted");
  } catch (const DataError& e) {
    check_contains(e.what(), "own.csv:4149: 1900 Wh/m2");
  }
}

TEST_CASE("direct and diffuse light that cannot be are told with their line",
          "[weather_file][errors]") {
  // Columns of an EPW file, from 1: 14 global, 15 direct square to the sun, 16 diffuse.
  Lines night = with_field_throughout(epw(2019), 14, "0");
  night = with_field_throughout(with_field_throughout(night, 15, "0"), 16, "0");
  struct Row {
    std::size_t hour;  // of 22 June, at 43.4 N
    const char* global;
    const char* direct;
    const char* diffuse;
    const char* says;  // nothing: is taken
  };
  for (const Row& row :
       {Row{12, "900", "5000", "100", "5000 Wh/m2 of direct light in an hour are more than the 13"},
        Row{12, "900", "1050", "100", ""}, Row{12, "300", "570", "100", ""},
        Row{12, "300", "590", "100", "590 Wh/m2 of direct light in an hour put 54"},
        Row{1, "0", "300", "0", "300 Wh/m2 of direct light in an hour in which the sun is down"},
        Row{1, "0", "10", "10", ""},
        Row{12, "300", "0", "900", "900 Wh/m2 of diffuse light in an hour are more than its 300"},
        Row{12, "300", "0", "350", ""},
        Row{12, "300", "0", "360", "360 Wh/m2 of diffuse light in an hour are more than its 300"},
        Row{12, "1200", "1440", "100", ""},
        Row{12, "1200", "1460", "100",
            "1460 Wh/m2 of direct light in an hour are more than the"}}) {
    CAPTURE(row.hour, row.global, row.direct, row.diffuse);
    Lines lines = night;
    std::string& line = lines[8 + 172 * 24 + row.hour];
    line =
        with_field(with_field(with_field(line, 14, row.global), 15, row.direct), 16, row.diffuse);
    const WeatherSeries series = read(lines);
    const Place place = place_of(series, {});
    const SiteSky sky = site_sky(place, {.tilt_deg = 30, .azimuth_deg = 180});
    std::string said;
    try {
      (void)series_sun_year(sky, series, 0);
    } catch (const DataError& e) {
      said = e.what();
    }
    if (*row.says == '\0') {
      CHECK(said.empty());
    } else {
      check_contains(said, fmt::format("own.csv:{}: {}", 4137 + row.hour, row.says));
    }
  }
}

TEST_CASE("the hourly years of the reference folder are all taken", "[weather_file][reference]") {
  // Measured hours have their errors: diffuse above global, direct light in an hour of twilight.
  for (const char* name :
       {"DNK_Lyngby_2017_measured.epw", "LKA_Colombo-Katunayake.434500_SWERA.epw",
        "USA_AZ_Davis-Monthan.AFB.722745_TMY3.epw",
        "USA_NY_New.York-J.F.Kennedy.Intl.AP.744860_TMY3.epw",
        "USA_PA_Pittsburgh-Allegheny.County.AP.725205_TMY3.epw"}) {
    std::optional<std::ifstream> file = published::reference_file(std::string("hourly/") + name);
    if (!file) return;
    const std::string text{std::istreambuf_iterator<char>(*file), {}};
    CAPTURE(name);
    const WeatherSeries series = read_weather(name, text);
    const SiteSky sky = site_sky(place_of(series, {}), {.tilt_deg = 30, .azimuth_deg = 180});
    CHECK_NOTHROW(series_sun_year(sky, series, 0));
  }
}

TEST_CASE("more than a weather file can hold is refused", "[weather_file][errors]") {
  std::istringstream in(std::string(kMaxWeatherFileBytes + 1, '0'));
  CHECK_THROWS_WITH(read_file("-", in, kMaxWeatherFileBytes),
                    "standard input: larger than 64 MiB, the most that is read");
}

TEST_CASE("published typical years are read whole", "[weather_file][recomputed][reference]") {
  // Two complete years in the EPW format, as their publishers give them; positions are those of
  // their first lines. Yearly sums of the global column, kWh/m2, added up apart from this program.
  struct Row {
    std::string file;
    double latitude_deg;
    double longitude_deg;
    double utc_offset_h;
    double global_kwh_m2;
  };
  for (const Row& row :
       {Row{"LKA_Colombo-Katunayake.434500_SWERA.epw", 7.17, 79.88, 6, 1969},
        Row{"USA_AZ_Davis-Monthan.AFB.722745_TMY3.epw", 32.17, -110.88, -7, 2002}}) {
    std::optional<std::ifstream> file = published::reference_file("hourly/" + row.file);
    if (!file) return;
    const std::string text{std::istreambuf_iterator<char>(*file), {}};
    CAPTURE(row.file);
    const WeatherSeries series = read_weather(row.file, text);
    CHECK(series.latitude_deg == row.latitude_deg);
    CHECK(series.longitude_deg == row.longitude_deg);
    CHECK(series.utc_offset_h == row.utc_offset_h);
    REQUIRE(series.global_wh_m2.size() == 8760);
    CHECK(series.direct_wh_m2.size() == 8760);
    CHECK(series.diffuse_wh_m2.size() == 8760);
    const double sum =
        std::accumulate(series.global_wh_m2.begin(), series.global_wh_m2.end(), 0.0) / 1000;
    CHECK_THAT(sum, WithinAbs(row.global_kwh_m2, 1));
  }
}
