#include "amptally/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "place/direction.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;

constexpr std::array<int, 12> kDaysInMonth = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

// Where the sun stands on the ecliptic at mean noon of a day of the year.
//
// Source: Astronomical Almanac, section C, low-precision formulas for the sun (from memory; 0.01
// deg and 0.1 min from 1950 to 2050). Legend: n days from noon of 1 January 2000, L mean longitude,
// g mean anomaly, lambda ecliptic longitude, epsilon obliquity of the ecliptic.
//
// A year of 365 days stands for those of 2021 to 2040: their first of January falls, in the mean
// and less whole years of 365.2422 days, on n = 10957.88 (calculated), and from March on a fourth
// of them are a day further.
struct Ecliptic {
  explicit Ecliptic(int day) {
    constexpr double kFirstOfJanuary_d = 10957.88;
    constexpr int kLastOfFebruary = 59;
    const double n = kFirstOfJanuary_d + (day - 1) + (day > kLastOfFebruary ? 0.25 : 0);
    mean_longitude_deg = 280.460 + 0.9856474 * n;
    anomaly_rad = (357.528 + 0.9856003 * n) * kRadPerDeg;
    const double lambda_deg =
        mean_longitude_deg + 1.915 * std::sin(anomaly_rad) + 0.020 * std::sin(2 * anomaly_rad);
    longitude = turn(lambda_deg * kRadPerDeg);
    obliquity = turn((23.439 - 0.0000004 * n) * kRadPerDeg);
  }

  double mean_longitude_deg;
  double anomaly_rad;
  Turn longitude;
  Turn obliquity;
};

// Erbs et al. split their data at this hour angle of sunset: winter below, the rest above. The two
// fits do not meet there, so a day's share may jump as the days lengthen.
constexpr double kErbsWinterSunset_rad = 81.4 * kRadPerDeg;

}  // namespace

int month_of_day(int day) {
  int month = 0;
  while (day > kDaysInMonth[static_cast<std::size_t>(month)]) {
    day -= kDaysInMonth[static_cast<std::size_t>(month)];
    ++month;
  }
  return month;
}

int days_in_month(int month) { return kDaysInMonth[static_cast<std::size_t>(month)]; }

int first_day_of_month(int month) {
  int day = 1;
  for (int m = 0; m < month; ++m) day += days_in_month(m);
  return day;
}

double year_mean(const Monthly& months) {
  double sum = 0;
  for (int m = 0; m < 12; ++m) sum += months[static_cast<std::size_t>(m)] * days_in_month(m);
  return sum / kDaysPerYear;
}

double declination_rad(int day) {
  const Ecliptic sun(day);
  return std::asin(sun.obliquity.sin * sun.longitude.sin);
}

double eccentricity_factor(int day) {
  const double g = Ecliptic(day).anomaly_rad;
  const double distance_au = 1.00014 - 0.01671 * std::cos(g) - 0.00014 * std::cos(2 * g);
  return 1 / (distance_au * distance_au);
}

double equation_of_time_min(int day) {
  constexpr double kMinPerDeg = 4;  // 1440 min a turn
  const Ecliptic sun(day);
  const double right_ascension_rad =
      std::atan2(sun.obliquity.cos * sun.longitude.sin, sun.longitude.cos);
  return kMinPerDeg *
         std::remainder(sun.mean_longitude_deg - right_ascension_rad / kRadPerDeg, 360.0);
}

double sunset_hour_angle_rad(double latitude_rad, double declination_rad) {
  const double x = -std::tan(latitude_rad) * std::tan(declination_rad);
  // Beyond the polar circles the sun does not cross the horizon: acos would give NaN.
  if (x >= 1) return 0;
  if (x <= -1) return pi;
  return std::acos(x);
}

double day_length_h(double latitude_deg, int day) {
  return 24 / pi * sunset_hour_angle_rad(latitude_deg * kRadPerDeg, declination_rad(day));
}

double extraterrestrial_kwh_m2_day(double latitude_rad, double declination_rad, double eccentricity,
                                   double solar_constant_w_m2) {
  const double phi = latitude_rad;
  const double delta = declination_rad;
  const double ws = sunset_hour_angle_rad(phi, delta);
  const double h0 =
      24 / pi * (solar_constant_w_m2 / 1000) * eccentricity *
      (ws * std::sin(phi) * std::sin(delta) + std::cos(phi) * std::cos(delta) * std::sin(ws));
  return std::max(0.0, h0);  // rounding leaves -1e-17 in polar night
}

double extraterrestrial_kwh_m2_day(double latitude_deg, int day, double solar_constant_w_m2) {
  return extraterrestrial_kwh_m2_day(latitude_deg * kRadPerDeg, declination_rad(day),
                                     eccentricity_factor(day), solar_constant_w_m2);
}

double extraterrestrial_month_kwh_m2_day(double latitude_deg, int month) {
  double sum = 0;
  const int first = first_day_of_month(month);
  for (int d = 0; d < days_in_month(month); ++d) {
    sum += extraterrestrial_kwh_m2_day(latitude_deg, first + d);
  }
  return sum / days_in_month(month);
}

double daily_diffuse_share(double clearness, double sunset_rad) {
  const double k = clearness;
  if (sunset_rad <= kErbsWinterSunset_rad) {
    if (k >= 0.715) return 0.143;
    return 1 - 0.2727 * k + 2.4495 * k * k - 11.9514 * k * k * k + 9.3879 * k * k * k * k;
  }
  if (k >= 0.722) return 0.175;
  return 1 + 0.2832 * k - 2.5557 * k * k + 0.8448 * k * k * k;
}

double hourly_diffuse_share(double clearness) {
  const double k = clearness;
  if (k <= 0.22) return 1 - 0.09 * k;
  if (k > 0.80) return 0.165;
  return 0.9511 - 0.1604 * k + 4.388 * k * k - 16.638 * k * k * k + 12.336 * k * k * k * k;
}

}  // namespace amptally::inline v0_1
