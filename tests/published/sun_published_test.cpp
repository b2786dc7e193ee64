// The sun against published figures. Each check names its source; "as printed" tolerances are half
// the last digit unless a reason is given.

#include <cmath>
#include <cstdio>
#include <fstream>
#include <numbers>
#include <string>

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

TEST_CASE("Spencer's sun stays near FAO-56 Table 2.6", "[sun][printed-outside]") {
  // Same source. The paper's short series puts the sun up to 1.3 deg too far south in September
  // to November (15 October: -9.7 deg; the almanac says -8.4), so those months get 1.8 MJ instead
  // of 0.62 MJ (1.4 % of the largest values).
  for (const auto& row : published::kFao56Table26_mj_m2_day) {
    for (int m = 1; m <= 12; ++m) {
      CAPTURE(row.latitude_deg, m);
      const double ra = kMjPerKwh * extraterrestrial_kwh_m2_day(row.latitude_deg, day_of(m, 15),
                                                                kFaoSolarConstant_w_m2);
      CHECK_THAT(ra, WithinAbs(row.months[static_cast<std::size_t>(m - 1)],
                               m >= 9 && m <= 11 ? 1.8 : 0.62));
    }
  }
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
      // Spencer's series, away from the polar circle where a degree of declination is hours and
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
  // (Cooper's formula there). Spencer's declination is within 1.5 deg of Cooper's, October worst.
  struct Row {
    int n;
    double printed_deg;
    double spencer_deg;  // computed from Spencer 1971
  };
  constexpr std::array<Row, 12> kRows = {{{17, -20.9, -20.90},
                                          {47, -13.0, -12.61},
                                          {75, -2.4, -2.04},
                                          {105, 9.4, 9.48},
                                          {135, 18.8, 18.67},
                                          {162, 23.1, 23.04},
                                          {198, 21.2, 21.35},
                                          {228, 13.5, 13.99},
                                          {258, 2.2, 3.34},
                                          {288, -9.6, -8.22},
                                          {318, -18.9, -18.04},
                                          {344, -23.0, -22.84}}};
  for (int m = 0; m < 12; ++m) {
    const Row& row = kRows[static_cast<std::size_t>(m)];
    CAPTURE(m);
    CHECK(month_of_day(row.n) == m);
    CHECK_THAT(declination_rad(row.n) / kRad, WithinAbs(row.spencer_deg, 0.006));
    CHECK_THAT(declination_rad(row.n) / kRad, WithinAbs(row.printed_deg, 1.5));
    // On the mean day extraterrestrial irradiation is near the month's mean: that is Klein's point.
    if (m != 8 && m != 9) {
      CHECK_THAT(extraterrestrial_kwh_m2_day(40, row.n),
                 WithinRel(extraterrestrial_month_kwh_m2_day(40, m), 0.015));
    }
  }
}

TEST_CASE("extraterrestrial irradiation, incidence and diffuse share are Duffie & Beckman's",
          "[sun][printed-outside]") {
  // Source: Duffie & Beckman, Solar Engineering of Thermal Processes, worked examples of chapters
  // 1 and 2; inputs seen, printed answers from memory. Solar constant 1367 there.
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(43, day_of(4, 15), 1367),
             WithinAbs(33.8, 0.1));
  CHECK_THAT(kMjPerKwh * extraterrestrial_kwh_m2_day(43, 162, 1367), WithinAbs(41.8, 0.1));
  // 43 N, 13 February 10:30 solar, tilt 45 deg, 15 deg west of south: 35 deg. Cooper's -14 deg.
  const double incidence =
      cos_incidence(43 * kRad, -14 * kRad, -22.5 * kRad, 45 * kRad, 195 * kRad);
  CHECK_THAT(std::acos(incidence) / kRad, WithinAbs(35.2, 0.2));
  // 43 N in June, H 23.0 MJ, H0 41.78: clearness 0.551, monthly diffuse share 0.38.
  const double sunset = sunset_hour_angle_rad(43 * kRad, declination_rad(162));
  CHECK_THAT(monthly_diffuse_share(0.551, sunset), WithinAbs(0.38, 0.005));
}

TEST_CASE("one hour on a tilted plane under an even sky is Duffie & Beckman's",
          "[sun][published]") {
  // Source: the same, isotropic sky example: 40 N, 20 February, 9-10 h solar, tilt 60 deg south,
  // horizontal 1.04 MJ/m2, albedo 0.6: 1.17 MJ/m2 (inputs seen, 1.171 recomputed; printed answer
  // from memory). Diffuse by the hourly Erbs form at the book's clearness of 0.445 (from memory):
  // 0.766.
  const double delta = -11.6 * kRad;
  const double w = -37.5 * kRad;
  const double ratio = cos_incidence(40 * kRad, delta, w, 60 * kRad, 180 * kRad) /
                       cos_incidence(40 * kRad, delta, w, 0, 180 * kRad);
  DayGeometry day;
  day.hours[9] = {
      .global_ratio = 1, .diffuse_ratio = 1, .beam_ratio = ratio, .open_beam_ratio = ratio};
  day.sky_view = day.open_sky_view = (1 + std::cos(60 * kRad)) / 2;
  day.ground_view = 0.6 * (1 - std::cos(60 * kRad)) / 2;
  const PlaneHour plane = plane_hour(
      day, 9, {.beam_wh_m2 = (1 - 0.766) * 1.04, .diffuse_wh_m2 = 0.766 * 1.04}, Sky::isotropic);
  CHECK_THAT(plane.shaded_wh_m2, WithinAbs(1.17, 0.012));
  CHECK(plane.open_wh_m2 == plane.shaded_wh_m2);
}

namespace {

// The mean-day method of the books: one day a month, isotropic sky, on the day of the year that has
// the declination they print for it.
double mean_day_plane_kwh_m2(double latitude_deg, double tilt_deg, double albedo, int month,
                             double printed_declination_deg, double horizontal_kwh_m2) {
  Place place{.name = "book",
              .latitude_deg = latitude_deg,
              .longitude_deg = 0,
              .sun_horizontal_kwh_m2_day = {},
              .air_temp_c = {}};
  const auto geometry =
      year_geometry(place, {.tilt_deg = tilt_deg, .azimuth_deg = 180, .albedo = albedo});
  const int middle = first_day_of_month(month) + 15;
  int best = middle;
  for (int day = middle - 15; day < middle + 12; ++day) {
    if (std::abs(declination_rad(day) / kRad - printed_declination_deg) <
        std::abs(declination_rad(best) / kRad - printed_declination_deg)) {
      best = day;
    }
  }
  const DayGeometry& day = geometry[static_cast<std::size_t>(best - 1)];
  const double clearness = horizontal_kwh_m2 / day.extraterrestrial_kwh_m2;
  std::array<double, kHoursPerDay> hours{};
  return plane_day(day, horizontal_kwh_m2, monthly_diffuse_share(clearness, day.sunset_rad),
                   Sky::isotropic, hours);
}

constexpr Monthly kKleinPrinted_deg = {-20.9, -13.0, -2.4, 9.4,  18.8,  23.1,
                                       21.2,  13.5,  2.2,  -9.6, -18.9, -23.0};

}  // namespace

TEST_CASE("Madison's months on a plane of 60 degrees are Duffie & Beckman's", "[sun][published]") {
  // Source: the same, monthly isotropic example, 43 N, tilt 60 south, albedo 0.7 .7 .4 .2 ... .4;
  // inputs seen; results recomputed by the book's daily-ratio method (January printed 13.7, from
  // memory). That method reads up to 4.2 % above an hourly
  // walk in winter (so does its recomputation for NASA's 42 N below), so 4.5 %.
  constexpr Monthly kHorizontal_mj = {6.44,  9.89,  12.86, 16.05, 21.36, 23.04,
                                      22.58, 20.33, 14.59, 10.48, 6.37,  5.74};
  constexpr Monthly kAlbedo = {0.7, 0.7, 0.4, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.4};
  constexpr Monthly kTilted_mj = {13.71, 17.25, 15.79, 14.69, 16.58, 16.53,
                                  16.76, 17.47, 15.58, 15.19, 11.36, 12.72};
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    CAPTURE(m);
    CHECK_THAT(kMjPerKwh * mean_day_plane_kwh_m2(43, 60, kAlbedo[i], m, kKleinPrinted_deg[i],
                                                 kHorizontal_mj[i] / kMjPerKwh),
               WithinRel(kTilted_mj[i], 0.045));
  }
}

namespace {

// Source: NASA Surface meteorology and Solar Energy, 22-year means, 42.075 N 1.821 E: horizontal
// and on a plane tilted 42 deg to the equator, kWh/m2/day; read in a public file.
constexpr Monthly kNasaHorizontal = {1.81, 2.77, 3.92, 4.66, 5.44, 6.28,
                                     6.56, 5.67, 4.51, 2.96, 2.00, 1.56};
constexpr Monthly kNasaTilted = {3.20, 4.07, 4.84, 4.78, 4.99, 5.46,
                                 5.83, 5.59, 5.21, 4.10, 3.35, 2.95};

}  // namespace

TEST_CASE("NASA's tilted months at 42 N come out by the mean-day method", "[sun][published]") {
  double sum = 0;
  double printed = 0;
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    CAPTURE(m);
    const double tilted =
        mean_day_plane_kwh_m2(42.075, 42, 0.2, m, kKleinPrinted_deg[i], kNasaHorizontal[i]);
    CHECK_THAT(tilted, WithinRel(kNasaTilted[i], m == 11 ? 0.05 : 0.03));
    sum += tilted;
    printed += kNasaTilted[i];
  }
  CHECK_THAT(sum, WithinRel(printed, 0.01));
}

namespace {

std::array<SunMonth, 12> months_of(const Place& place, const PanelPlane& plane) {
  const SiteSky sky = site_sky(place, plane);
  return sun_months(sky, mean_sun_year(sky));
}

}  // namespace

TEST_CASE("NASA's tilted months at 42 N come out of the mean year", "[weather][printed-outside]") {
  // NASA's figures come from the mean-day method above. The mean year follows the true sun, which
  // in October and November stands 1 deg higher than that method has it, and takes the mean over
  // dull and clear days: 4.5 % a month instead of 3 %; the year within 1 %.
  const Place place{.name = "42 N",
                    .latitude_deg = 42.075,
                    .longitude_deg = 1.821,
                    .sun_horizontal_kwh_m2_day = kNasaHorizontal,
                    .air_temp_c = {}};
  const auto months = months_of(place, {.tilt_deg = 42, .azimuth_deg = 180});
  double sum = 0;
  double printed = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    CAPTURE(m);
    CHECK_THAT(months[m].sun_panel_kwh_m2_day, WithinRel(kNasaTilted[m], 0.045));
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
  CHECK_THAT(declination_rad(day) / kRad, WithinAbs(-9.31434, 0.6));
  CHECK_THAT(equation_of_time_min(day), WithinAbs(14.6415, 0.6));
  const SunPosition sun = sun_position(39.742476, -105.1786, -7, day, 12 + 30.5 / 60);
  CHECK_THAT(90 - sun.elevation_deg, WithinAbs(50.11162, 0.6));
  CHECK_THAT(sun.azimuth_deg, WithinAbs(194.34024, 0.6));
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
    CHECK_THAT(90 - sun.elevation_deg, WithinAbs(zenith, 0.6));
    if (zenith > 10) {
      const double turn = std::remainder(sun.azimuth_deg - azimuth, 360.0);
      CHECK_THAT(turn * std::sin(zenith * kRad), WithinAbs(0, 0.6));
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
      CHECK_THAT(sun.elevation_deg, WithinAbs(-0.833, 0.6));
      ++compared;
    }
  }
  CHECK(compared > 150);
}
