#include "amptally/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "place/direction.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;

constexpr std::array<int, 12> kDaysInMonth = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

// Spencer's day angle and its multiples.
struct DayAngle {
  explicit DayAngle(int day) : rad(2 * pi * (day - 1) / kDaysPerYear) {}

  double rad;
  Turn once = turn(rad);
  Turn twice = turn(2 * rad);
  Turn thrice = turn(3 * rad);
};

// Erbs et al. split their data at this hour angle of sunset: winter below, the rest above. The two
// fits do not meet there, so a month's share may jump as the days lengthen.
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
  const DayAngle g(day);
  return 0.006918 - 0.399912 * g.once.cos + 0.070257 * g.once.sin - 0.006758 * g.twice.cos +
         0.000907 * g.twice.sin - 0.002697 * g.thrice.cos + 0.00148 * g.thrice.sin;
}

double eccentricity_factor(int day) {
  const DayAngle g(day);
  return 1.000110 + 0.034221 * g.once.cos + 0.001280 * g.once.sin + 0.000719 * g.twice.cos +
         0.000077 * g.twice.sin;
}

double equation_of_time_min(int day) {
  const DayAngle g(day);
  constexpr double kMinPerRad = 229.18;  // 1440 / (2 pi), as Spencer rounds it
  return kMinPerRad * (0.000075 + 0.001868 * g.once.cos - 0.032077 * g.once.sin -
                       0.014615 * g.twice.cos - 0.040849 * g.twice.sin);
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

double monthly_diffuse_share(double clearness, double sunset_rad) {
  const auto fit = [&](double k) {
    return sunset_rad <= kErbsWinterSunset_rad
               ? 1.391 - 3.560 * k + 4.189 * k * k - 2.137 * k * k * k
               : 1.311 - 3.022 * k + 3.427 * k * k - 1.821 * k * k * k;
  };
  constexpr double kFitLow = 0.3;
  constexpr double kFitHigh = 0.8;
  // Below the fit: a straight line to all-diffuse light under a black sky.
  if (clearness < kFitLow) return 1 - (1 - fit(kFitLow)) * clearness / kFitLow;
  return fit(std::min(clearness, kFitHigh));
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
