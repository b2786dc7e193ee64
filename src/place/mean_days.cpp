#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/sun.hpp"
#include "amptally/validate.hpp"
#include "amptally/weather.hpp"

namespace amptally::inline v0_1 {
namespace {

// FAO-56 (Allen et al. 1998) eq. 50, inland: Rs = 0.16 sqrt(Tmax - Tmin) Ra.
constexpr double kHargreavesInland = 0.16;

// Chosen: bound on the daily swing, K. The relation gives 25 K at the clearest skies, more than
// FAO-56's own examples; deserts reach 20.
constexpr double kLargestSwing_k = 20;

// Chosen: daily clearness a straight-line year may take; beyond, the month keeps its own mean.
constexpr double kLeastClearness = 0.03;
constexpr double kMostClearness = 0.80;

// A day between the middles of two months.
struct Between {
  std::size_t before;
  std::size_t after;
  double after_weight;  // 0..1
};

Between between_middles(int day) {
  const int month = month_of_day(day);
  const auto middle = [](int m) { return first_day_of_month(m) + (days_in_month(m) - 1) / 2.0; };
  const int before = day >= middle(month) ? month : (month + 11) % 12;
  const int after = (before + 1) % 12;
  double from = middle(before);
  double to = middle(after);
  double at = day;
  if (to < from) to += kDaysPerYear;  // December to January
  if (at < from) at += kDaysPerYear;
  return {static_cast<std::size_t>(before), static_cast<std::size_t>(after),
          (at - from) / (to - from)};
}

// Solves a 12 x 12 system by elimination with row exchange.
Monthly solve(std::array<Monthly, kMonthsPerYear> a, Monthly b) {
  for (std::size_t c = 0; c < kMonthsPerYear; ++c) {
    std::size_t pivot = c;
    for (std::size_t r = c + 1; r < kMonthsPerYear; ++r) {
      if (std::abs(a[r][c]) > std::abs(a[pivot][c])) pivot = r;
    }
    std::swap(a[c], a[pivot]);
    std::swap(b[c], b[pivot]);
    for (std::size_t r = c + 1; r < kMonthsPerYear; ++r) {
      const double factor = a[r][c] / a[c][c];
      for (std::size_t k = c; k < kMonthsPerYear; ++k) a[r][k] -= factor * a[c][k];
      b[r] -= factor * b[c];
    }
  }
  for (std::size_t r = kMonthsPerYear; r-- > 0;) {
    for (std::size_t k = r + 1; k < kMonthsPerYear; ++k) b[r] -= a[r][k] * b[k];
    b[r] /= a[r][r];
  }
  return b;
}

// Daily values in straight lines between the middles of the months whose weighted mean over each
// month is the month's. A month of no weight (polar night) takes the mean of its neighbours.
std::vector<double> smooth_year(const Monthly& means, const std::vector<double>& weights) {
  std::array<Monthly, kMonthsPerYear> rows{};
  Monthly sums{};
  for (int day = 1; day <= kDaysPerYear; ++day) {
    const auto month = static_cast<std::size_t>(month_of_day(day));
    const Between at = between_middles(day);
    const double w = weights[static_cast<std::size_t>(day - 1)];
    rows[month][at.before] += w * (1 - at.after_weight);
    rows[month][at.after] += w * at.after_weight;
    sums[month] += w * means[month];
  }
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    if (rows[m][m] > 0) continue;
    rows[m] = {};
    rows[m][m] = 1;
    rows[m][(m + 1) % kMonthsPerYear] = rows[m][(m + 11) % kMonthsPerYear] = -0.5;
    sums[m] = 0;
  }
  const Monthly knots = solve(rows, sums);
  std::vector<double> days;
  days.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    const Between at = between_middles(day);
    days.push_back(knots[at.before] * (1 - at.after_weight) + knots[at.after] * at.after_weight);
  }
  return days;
}

// Irradiation above the air on each day, kWh/m2.
std::vector<double> tops_of_air(double latitude_deg) {
  std::vector<double> days;
  days.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    days.push_back(extraterrestrial_kwh_m2_day(latitude_deg, day));
  }
  return days;
}

double month_mean(const std::vector<double>& days, int month) {
  const auto first = days.begin() + (first_day_of_month(month) - 1);
  return std::accumulate(first, first + days_in_month(month), 0.0) / days_in_month(month);
}

// Chosen: what a table may have above the top of the air at the edge of polar night. It is rounded,
// and for a place up to some 150 km off; up to there no shipped table has more.
constexpr double kTableSlack_kwh_m2_day = 0.05;

// The nearest table may be an ocean away, where the sun stands higher.
[[noreturn]] void refuse_far_table(const Place& place, std::size_t month, double top) {
  throw InputError(
      "place.insolation",
      fmt::format(
          "{}, {:.0f} km away, has {:.2f} kWh/m2/day in {}, more than the {:.2f} that reach "
          "the top of the air here (give twelve values of the site's own)",
          place.climate.sun, place.climate.distance_km, place.sun_horizontal_kwh_m2_day[month],
          kMonthNames[month], top));
}

Monthly monthly_clearness(const Place& place, const std::vector<double>& tops) {
  Monthly clearness{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    const double top = month_mean(tops, static_cast<int>(m));
    const double sun = place.sun_horizontal_kwh_m2_day[m];
    if (place.climate.own_sun && sun > top) {
      throw InputError(
          fmt::format("place.insolation[{}]", m),
          fmt::format(
              "{:g} kWh/m2/day is more than the {:.2f} that reaches the top of the air there "
              "in that month (is the unit right? 1 kWh = 3.6 MJ)",
              sun, top));
    }
    if (!place.climate.own_sun && sun > top + kTableSlack_kwh_m2_day)
      refuse_far_table(place, m, top);
    clearness[m] = top > 0 ? sun / top : 0;
  }
  return clearness;
}

// Clearness of each day: the smooth year, but one value throughout a month whose line would leave
// the physical range.
std::vector<double> daily_clearness(const Place& place, const std::vector<double>& tops) {
  const Monthly means = monthly_clearness(place, tops);
  std::vector<double> days = smooth_year(means, tops);
  for (int m = 0; m < 12; ++m) {
    const auto first = days.begin() + (first_day_of_month(m) - 1);
    const auto last = first + days_in_month(m);
    const bool physical = std::all_of(
        first, last, [](double k) { return k >= kLeastClearness && k <= kMostClearness; });
    if (!physical) std::fill(first, last, means[static_cast<std::size_t>(m)]);
  }
  return days;
}

}  // namespace

double air_swing_c(double clearness) {
  const double root = clearness / kHargreavesInland;
  return std::min(root * root, kLargestSwing_k);
}

std::vector<WeatherDay> mean_days(const Place& place) {
  require_valid(place);
  const std::vector<double> tops = tops_of_air(place.latitude_deg);
  const std::vector<double> clearness = daily_clearness(place, tops);
  const std::vector<double> air =
      smooth_year(place.air_temp_c, std::vector<double>(kDaysPerYear, 1.0));
  std::vector<WeatherDay> days;
  days.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    const auto d = static_cast<std::size_t>(day - 1);
    days.push_back({.sun_horizontal_kwh_m2 = clearness[d] * tops[d],
                    .air_temp_c = air[d],
                    .air_swing_c = air_swing_c(clearness[d])});
  }
  return days;
}

}  // namespace amptally::inline v0_1
