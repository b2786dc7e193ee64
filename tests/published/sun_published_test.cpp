// The sun against published figures. Each check names its source; "as printed" tolerances are half
// the last digit unless a reason is given.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>

#include "amptally/climate.hpp"
#include "amptally/sun.hpp"
#include "amptally/weather.hpp"

#include "catch.hpp"
#include "published/fao56_tables.hpp"
#include "published/reference_files.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {

constexpr double kRad = pi / 180;
constexpr double kMjPerKwh = 3.6;

// FAO-56 works with 0.0820 MJ/m2/min.
constexpr double kFaoSolarConstant_w_m2 = 0.0820e6 / 60;

// FAO-56 eq. 24 and 23: its own short declination and distance series.
double fao_declination_rad(int day) { return 0.409 * std::sin(2 * pi * day / 365 - 1.39); }
double fao_distance(int day) { return 1 + 0.033 * std::cos(2 * pi * day / 365); }

int day_of(int month, int day_of_month) { return first_day_of_month(month - 1) + day_of_month - 1; }

}  // namespace

TEST_CASE("extraterrestrial radiation is that of FAO-56 Table 2.6", "[sun][printed-outside]") {
  // Source: FAO-56 Table 2.6, 31 latitudes of both hemispheres x 12 months. With the paper's own
  // declination (eq. 24) the table is met to 0.15 MJ, its rounding and the true 15th of the month.
  for (const auto& row : published::kFao56Table26_mj_m2_day) {
    for (int m = 1; m <= 12; ++m) {
      const int day = day_of(m, 15);
      CAPTURE(row.latitude_deg, m);
      const double ra =
          kMjPerKwh * extraterrestrial_kwh_m2_day(row.latitude_deg * kRad, fao_declination_rad(day),
                                                  fao_distance(day), kFaoSolarConstant_w_m2);
      CHECK_THAT(ra, WithinAbs(row.months[static_cast<std::size_t>(m - 1)], 0.15));
    }
  }
}

TEST_CASE("extraterrestrial radiation is that of all 71 latitudes of FAO-56 Table 2.6",
          "[sun][printed-outside][reference]") {
  // Same source, every second degree from 70 N to 70 S, read from the reference folder where there
  // is one.
  std::optional<std::ifstream> file = published::reference_file("fao56_ra.csv");
  if (!file) return;
  int rows = 0;
  std::string line;
  while (std::getline(*file, line)) {
    std::istringstream in(line);
    double latitude_deg = 0;
    if (!(in >> latitude_deg)) continue;
    ++rows;
    for (int m = 1; m <= 12; ++m) {
      char comma = 0;
      double printed = 0;
      REQUIRE(in >> comma >> printed);
      CAPTURE(latitude_deg, m);
      const int day = day_of(m, 15);
      CHECK_THAT(
          kMjPerKwh * extraterrestrial_kwh_m2_day(latitude_deg * kRad, fao_declination_rad(day),
                                                  fao_distance(day), kFaoSolarConstant_w_m2),
          WithinAbs(printed, 0.15));
    }
  }
  CHECK(rows == 71);
}

TEST_CASE("the almanac's sun stays near FAO-56 Table 2.6", "[sun][printed-outside]") {
  // Same source. The paper's short declination (eq. 24) is up to 1.2 deg off the almanac in the
  // middle of a month (15 October: -9.7 deg; the almanac says -8.6). What that alone moves, up to
  // 1.7 MJ, is taken off; the paper's short distance series leaves 0.3 MJ.
  double most_moved_mj = 0;
  for (const auto& row : published::kFao56Table26_mj_m2_day) {
    for (int m = 1; m <= 12; ++m) {
      CAPTURE(row.latitude_deg, m);
      const int day = day_of(m, 15);
      const double phi = row.latitude_deg * kRad;
      const auto ra_mj = [&](double declination) {
        return kMjPerKwh * extraterrestrial_kwh_m2_day(phi, declination, fao_distance(day),
                                                       kFaoSolarConstant_w_m2);
      };
      const double moved_mj = ra_mj(declination_rad(day)) - ra_mj(fao_declination_rad(day));
      most_moved_mj = std::max(most_moved_mj, std::abs(moved_mj));
      const double ra =
          kMjPerKwh * extraterrestrial_kwh_m2_day(row.latitude_deg, day, kFaoSolarConstant_w_m2);
      CHECK_THAT(ra, WithinAbs(row.months[static_cast<std::size_t>(m - 1)] + moved_mj, 0.3));
      CHECK_THAT(declination_rad(day), WithinAbs(fao_declination_rad(day), 1.2 * kRad));
    }
  }
  CHECK(most_moved_mj < 1.7);
}

TEST_CASE("daylight hours are those of FAO-56 Table 2.7", "[sun][printed-outside]") {
  // Source: FAO-56 Table 2.7, both hemispheres (the southern printed six months on). FAO's own
  // declination: 0.08 h of rounding.
  for (const auto& row : published::kFao56Table27_h) {
    for (int m = 1; m <= 12; ++m) {
      CAPTURE(row.latitude_deg, m);
      const double printed = row.months[static_cast<std::size_t>(m - 1)];
      const double declination = fao_declination_rad(day_of(m, 15));
      const double hours = 24 / pi * sunset_hour_angle_rad(row.latitude_deg * kRad, declination);
      CHECK_THAT(hours, WithinAbs(printed, 0.08));
      CHECK_THAT(24 / pi * sunset_hour_angle_rad(-row.latitude_deg * kRad, -declination),
                 WithinAbs(printed, 0.08));
      // The almanac's, away from the polar circle where a degree of declination is hours and
      // from the months in which FAO's own is a degree off.
      if (row.latitude_deg <= 60 && !(m >= 9 && m <= 11)) {
        CHECK_THAT(day_length_h(row.latitude_deg, day_of(m, 15)), WithinAbs(printed, 0.2));
      }
    }
  }
}

TEST_CASE("sun and day length are those of FAO-56 examples 8, 9 and 10", "[sun][printed-outside]") {
  // Source: FAO-56 p. 80-84 as repeated in a public test file (page numbers as given there).
  const double declination = fao_declination_rad(246);
  CHECK_THAT(declination, WithinAbs(0.120, 0.0005));
  CHECK_THAT(fao_distance(246), WithinAbs(0.985, 0.0005));
  const double sunset = sunset_hour_angle_rad(-20 * kRad, declination);
  CHECK_THAT(sunset, WithinAbs(1.527, 0.0005));
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(-20 * kRad, declination, fao_distance(246),
                                                     kFaoSolarConstant_w_m2),
             WithinAbs(32.2, 0.05));
  CHECK_THAT(24 / pi * sunset, WithinAbs(11.7, 0.05));
  // Example 10: Rio de Janeiro, 22.9 S, 15 May: Ra 25.1, Rs = (0.25 + 0.50 n/N) Ra = 14.45 at
  // n = 7.1 h, N = 10.9 h.
  const double ra =
      kMjPerKwh * extraterrestrial_kwh_m2_day(-22.9 * kRad, fao_declination_rad(135),
                                              fao_distance(135), kFaoSolarConstant_w_m2);
  CHECK_THAT(ra, WithinAbs(25.1, 0.05));
  CHECK_THAT((0.25 + 0.50 * 7.1 / 10.9) * ra, WithinAbs(14.45, 0.03));
}

TEST_CASE("the mean days of the months are Klein's", "[sun][printed-outside]") {
  // Source: Klein 1977, Solar Energy 19, 325-329: day of the year and declination as printed
  // (Cooper's formula there). The almanac's is within 1.5 deg of Cooper's, October worst.
  struct Row {
    int n;
    double printed_deg;
    double almanac_deg;  // mean of that date's noons of 2021 to 2040, by Meeus, recomputed
  };
  constexpr std::array<Row, 12> kRows = {{{17, -20.9, -20.70},
                                          {47, -13.0, -12.26},
                                          {75, -2.4, -1.56},
                                          {105, 9.4, 9.93},
                                          {135, 18.8, 18.97},
                                          {162, 23.1, 23.11},
                                          {198, 21.2, 21.11},
                                          {228, 13.5, 13.58},
                                          {258, 2.2, 2.85},
                                          {288, -9.6, -8.68},
                                          {318, -18.9, -18.34},
                                          {344, -23.0, -22.95}}};
  for (int m = 0; m < 12; ++m) {
    const Row& row = kRows[static_cast<std::size_t>(m)];
    CAPTURE(m);
    CHECK(month_of_day(row.n) == m);
    CHECK_THAT(declination_rad(row.n) / kRad, WithinAbs(row.almanac_deg, 0.01));
    CHECK_THAT(declination_rad(row.n) / kRad, WithinAbs(row.printed_deg, 1.5));
    // On the mean day extraterrestrial irradiation is near the month's mean: that is Klein's point.
    if (m != 8 && m != 9) {
      CHECK_THAT(extraterrestrial_kwh_m2_day(40, row.n),
                 WithinRel(extraterrestrial_month_kwh_m2_day(40, m), 0.015));
    }
  }
}

TEST_CASE("extraterrestrial irradiation and incidence are Duffie & Beckman's",
          "[sun][printed-outside]") {
  // Source: Duffie & Beckman, Solar Engineering of Thermal Processes, worked examples of chapters
  // 1 and 2; inputs seen, printed answers from memory. Solar constant 1367 there.
  // By the book's formulas for n = 105, 9.4 deg and 1 + 0.033 cos(360 n/365); the almanac's sun
  // stands half a degree higher then, and brings 1.1 % more.
  const double e_105 = 1 + 0.033 * std::cos(2 * pi * 105 / 365);
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(43 * kRad, 9.41 * kRad, e_105, 1367),
             WithinAbs(33.8, 0.05));
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(43, 105, 1367), WithinAbs(33.8 * 1.011, 0.05));
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(43, 162, 1367), WithinAbs(41.8, 0.1));
  // 43 N, 13 February 10:30 solar, tilt 45 deg, 15 deg west of south: 35 deg. Cooper's -14 deg.
  const double incidence =
      cos_incidence(43 * kRad, -14 * kRad, -22.5 * kRad, 45 * kRad, 195 * kRad);
  CHECK_THAT(std::acos(incidence) / kRad, WithinAbs(35.2, 0.2));
}

TEST_CASE("one hour on a tilted plane under an even sky is Duffie & Beckman's",
          "[sun][recomputed]") {
  // Source: the same, isotropic sky example: 40 N, 20 February, 9-10 h solar, tilt 60 deg south,
  // horizontal 1.04 MJ/m2, albedo 0.6: 1.17 MJ/m2 (inputs seen, 1.171 recomputed; printed answer
  // from memory). Diffuse by the hourly Erbs form at the book's clearness of 0.445 (from memory):
  // 0.766. Nothing above the air is known of this hour, so none of its light is from around the
  // sun.
  const double delta = -11.6 * kRad;
  const double w = -37.5 * kRad;
  const double ratio = cos_incidence(40 * kRad, delta, w, 60 * kRad, 180 * kRad) /
                       cos_incidence(40 * kRad, delta, w, 0, 180 * kRad);
  DayGeometry day;
  day.hours[9] = {.diffuse_ratio = 1, .beam_ratio = ratio, .open_beam_ratio = ratio};
  day.sky_view = day.open_sky_view = (1 + std::cos(60 * kRad)) / 2;
  day.ground_view = 0.6 * (1 - std::cos(60 * kRad)) / 2;
  const PlaneHour plane =
      plane_hour(day, 9, {.beam_wh_m2 = (1 - 0.766) * 1.04, .diffuse_wh_m2 = 0.766 * 1.04});
  CHECK_THAT(plane.shaded_wh_m2, WithinAbs(1.17, 0.012));
  CHECK(plane.open_wh_m2 == plane.shaded_wh_m2);
}

namespace {

// Source: NASA Surface meteorology and Solar Energy, 22-year means, 42.075 N 1.821 E: horizontal
// and on a plane tilted 42 deg to the equator, kWh/m2/day; read in a public file.
constexpr Monthly kNasaHorizontal = {1.81, 2.77, 3.92, 4.66, 5.44, 6.28,
                                     6.56, 5.67, 4.51, 2.96, 2.00, 1.56};
constexpr Monthly kNasaTilted = {3.20, 4.07, 4.84, 4.78, 4.99, 5.46,
                                 5.83, 5.59, 5.21, 4.10, 3.35, 2.95};

}  // namespace

namespace {

std::array<SunMonth, 12> months_of(const Place& place, const PanelPlane& plane) {
  const SiteSky sky = site_sky(place, plane);
  return sun_months(sky, mean_sun_year(sky));
}

}  // namespace

TEST_CASE("NASA's tilted months at 42 N come out of the mean year", "[weather][printed-outside]") {
  // NASA's figures come from the mean-day method under an even sky. The mean year follows the true
  // sun, which in October and November stands 1 deg higher than that method has it, and takes the
  // mean over dull and clear days: 4.5 % a month instead of 3 %; the year within 1 %. That method's
  // hours are Collares-Pereira & Rabl's (from memory), which keep more beam for a low sun than
  // comes in years by the hour (plane_reference_test.cpp): December is 5.4 % below it; 3.7 % with
  // those hours, 5.6 % with Meinel & Meinel's air.
  const Place place{.name = "42 N",
                    .latitude_deg = 42.075,
                    .longitude_deg = 1.821,
                    .sun_horizontal_kwh_m2_day = kNasaHorizontal,
                    .air_temp_c = climate_at(42.075, 1.821).row.air_temp_c};
  const auto months = months_of(place, {.tilt_deg = 42, .azimuth_deg = 180});
  double sum = 0;
  double printed = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    CAPTURE(m);
    CHECK_THAT(months[m].sun_panel_kwh_m2_day, WithinRel(kNasaTilted[m], m == 11 ? 0.055 : 0.045));
    sum += months[m].sun_panel_kwh_m2_day;
    printed += kNasaTilted[m];
  }
  CHECK_THAT(sum, WithinRel(printed, 0.01));
}

TEST_CASE("the sun stands at its published position of 17 October 2003, 39.742 N 105.179 W",
          "[sun][printed-outside]") {
  // Source: Reda & Andreas 2004, NREL/TP-560-34302, Table A5.1: 12:30:30 at UTC-7: zenith 50.11162,
  // azimuth 194.34024 deg, declination -9.31434 deg, equation of time 14.6415 min.
  const int day = day_of(10, 17);
  CHECK_THAT(declination_rad(day) / kRad, WithinAbs(-9.31434, 0.3));
  CHECK_THAT(equation_of_time_min(day), WithinAbs(14.6415, 0.2));
  const SunPosition sun = sun_position(39.742476, -105.1786, -7, day, 12 + 30.5 / 60);
  CHECK_THAT(90 - sun.elevation_deg, WithinAbs(50.11162, 0.3));
  CHECK_THAT(sun.azimuth_deg, WithinAbs(194.34024, 0.3));
}

namespace {

struct LocalTime {
  int day;
  double clock_h;
  double utc_offset_h;
};

// A moment given in UTC, as clock time of the place's own solar zone, so that the day is the local
// one.
LocalTime local_time(int month, int date, double utc_h, double longitude_deg) {
  LocalTime local = {day_of(month, date), utc_h + longitude_deg / 15, longitude_deg / 15};
  if (local.clock_h >= 24) {
    local.clock_h -= 24;
    local.day = local.day % kDaysPerYear + 1;
  } else if (local.clock_h < 0) {
    local.clock_h += 24;
    local.day = local.day == 1 ? kDaysPerYear : local.day - 1;
  }
  return local;
}

// The program's year is the mean of 2021 to 2040, its declination that of noon. A century on the
// calendar has slipped by up to 0.9 day against the sun (365.25 days a year but for 2100 and 2200,
// and 365.2422), 0.36 deg at an equinox.
double off_in_year_deg(int year) { return year == 2010 ? 0.4 : 0.4 + 0.36; }

}  // namespace

TEST_CASE("the sun stands where a whole reference file has it",
          "[sun][printed-outside][reference]") {
  // Source: output of NREL's solar position algorithm (revision of 8 September 2014), read from the
  // reference folder where there is one.
  std::optional<std::ifstream> file = published::reference_file("spa_position.csv");
  if (!file) return;
  int compared = 0;
  std::string line;
  while (std::getline(*file, line)) {
    int year = 0, month = 0, date = 0, hour = 0, minute = 0;
    double lat = 0, lon = 0, azimuth = 0, zenith = 0;
    if (std::sscanf(line.c_str(), "%d-%d-%dT%d:%d:00Z,%lf,%lf,%lf,%lf", &year, &month, &date, &hour,
                    &minute, &lat, &lon, &azimuth, &zenith) != 9) {
      continue;
    }
    // Refraction, which we leave out, is 0.5 deg at the horizon: look only higher up. At the zenith
    // the azimuth has no meaning.
    if (zenith > 75) continue;
    CAPTURE(line);
    const LocalTime at = local_time(month, date, hour + minute / 60.0, lon);
    const SunPosition sun = sun_position(lat, lon, at.utc_offset_h, at.day, at.clock_h);
    const double within_deg = off_in_year_deg(year);
    CHECK_THAT(90 - sun.elevation_deg, WithinAbs(zenith, within_deg));
    if (zenith > 10) {
      const double turn = std::remainder(sun.azimuth_deg - azimuth, 360.0);
      CHECK_THAT(turn * std::sin(zenith * kRad), WithinAbs(0, within_deg));
    }
    ++compared;
  }
  CHECK(compared > 150);
}

TEST_CASE("sunrise and sunset are those of a whole reference file",
          "[sun][printed-outside][reference]") {
  // Source: as above; -999 stands for none. At the published moment the sun's centre is 0.833 deg
  // (refraction and half its disc) below the horizon.
  std::optional<std::ifstream> file = published::reference_file("spa_sunrise.csv");
  if (!file) return;
  int compared = 0;
  std::string line;
  while (std::getline(*file, line)) {
    int year = 0, month = 0, date = 0, h[3] = {}, m[3] = {}, s[3] = {};
    double lat = 0, lon = 0;
    if (std::sscanf(line.c_str(), "%d-%d-%dT%*d:%*d:00Z,%lf,%lf,%d:%d:%d,%d:%d:%d,%d:%d:%d", &year,
                    &month, &date, &lat, &lon, &h[0], &m[0], &s[0], &h[1], &m[1], &s[1], &h[2],
                    &m[2], &s[2]) != 14) {
      continue;
    }
    for (const int i : {0, 2}) {
      CAPTURE(line, i);
      const LocalTime at = local_time(month, date, h[i] + m[i] / 60.0 + s[i] / 3600.0, lon);
      const SunPosition sun = sun_position(lat, lon, at.utc_offset_h, at.day, at.clock_h);
      CHECK_THAT(sun.elevation_deg, WithinAbs(-0.833, off_in_year_deg(year)));
      ++compared;
    }
  }
  CHECK(compared > 150);
}
