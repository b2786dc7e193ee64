#include "amptally/weather.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <string>

#include "amptally/error.hpp"

#include "plane_light.hpp"
#include "sun_path.hpp"
#include "sun_year.hpp"

namespace amptally {
namespace {

using std::numbers::pi;

constexpr std::size_t kMonths = 12;

// FAO-56 (Allen et al. 1998) eq. 50, inland: Rs = 0.16 sqrt(Tmax - Tmin) Ra.
constexpr double kHargreavesInland = 0.16;

// Chosen: bound on the daily swing, K. The relation gives 25 K at the clearest skies, more than
// FAO-56's own examples; deserts reach 20.
constexpr double kLargestSwing_k = 20;

// Common practice, no source: the air is warmest about three hours after solar noon.
constexpr double kWarmestSolarHour = 15;

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
Monthly solve(std::array<Monthly, kMonths> a, Monthly b) {
  for (std::size_t c = 0; c < kMonths; ++c) {
    std::size_t pivot = c;
    for (std::size_t r = c + 1; r < kMonths; ++r) {
      if (std::abs(a[r][c]) > std::abs(a[pivot][c])) pivot = r;
    }
    std::swap(a[c], a[pivot]);
    std::swap(b[c], b[pivot]);
    for (std::size_t r = c + 1; r < kMonths; ++r) {
      const double factor = a[r][c] / a[c][c];
      for (std::size_t k = c; k < kMonths; ++k) a[r][k] -= factor * a[c][k];
      b[r] -= factor * b[c];
    }
  }
  for (std::size_t r = kMonths; r-- > 0;) {
    for (std::size_t k = r + 1; k < kMonths; ++k) b[r] -= a[r][k] * b[k];
    b[r] /= a[r][r];
  }
  return b;
}

// Daily values in straight lines between the middles of the months whose weighted mean over each
// month is the month's. A month of no weight (polar night) takes the mean of its neighbours.
std::vector<double> smooth_year(const Monthly& means, const std::vector<double>& weights) {
  std::array<Monthly, kMonths> rows{};
  Monthly sums{};
  for (int day = 1; day <= kDaysPerYear; ++day) {
    const auto month = static_cast<std::size_t>(month_of_day(day));
    const Between at = between_middles(day);
    const double w = weights[static_cast<std::size_t>(day - 1)];
    rows[month][at.before] += w * (1 - at.after_weight);
    rows[month][at.after] += w * at.after_weight;
    sums[month] += w * means[month];
  }
  for (std::size_t m = 0; m < kMonths; ++m) {
    if (rows[m][m] > 0) continue;
    rows[m] = {};
    rows[m][m] = 1;
    rows[m][(m + 1) % kMonths] = rows[m][(m + 11) % kMonths] = -0.5;
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

Monthly monthly_clearness(const Place& place, const std::vector<double>& tops) {
  Monthly clearness{};
  for (std::size_t m = 0; m < kMonths; ++m) {
    const double top = month_mean(tops, static_cast<int>(m));
    const double sun = place.sun_horizontal_kwh_m2_day[m];
    if (place.climate.own_sun && sun > top) {
      throw InputError("place.insolation[" + std::to_string(m) + "]",
                       std::to_string(sun) + " kWh/m2/day is more than the " + std::to_string(top) +
                           " that reaches the top of the air there in that month (is the unit "
                           "right? 1 kWh = 3.6 MJ)");
    }
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

double day_diffuse_share(const DayGeometry& day, double horizontal_kwh_m2) {
  const double top = day.extraterrestrial_kwh_m2;
  return top > 0 ? daily_diffuse_share(horizontal_kwh_m2 / top, day.sunset_rad) : 1;
}

// The days a month is made of: clearness over the month's mean, each as likely as the others.
constexpr std::size_t kKindsOfDay = 20;
using KindsOfDay = std::array<double, kKindsOfDay>;

KindsOfDay kinds_of_day(const ClearnessMonth& month) {
  KindsOfDay kinds{};
  double sum = 0;
  for (std::size_t i = 0; i < kKindsOfDay; ++i) {
    const double rank = month.rank_of((static_cast<double>(i) + 0.5) / kKindsOfDay);
    kinds[i] = month.mean > 0 ? month.at(rank) / month.mean : 1;
    sum += kinds[i];
  }
  for (double& kind : kinds) kind *= kKindsOfDay / sum;
  return kinds;
}

// Expectation of the plane over the kinds of day of a month, hour by hour; returns it without
// shade.
double expected_plane_day(const DayGeometry& geometry, double horizontal_kwh_m2,
                          const KindsOfDay& kinds, std::span<double, kHoursPerDay> plane_w_m2) {
  std::array<HorizontalDay, kKindsOfDay> days{};
  for (std::size_t i = 0; i < kKindsOfDay; ++i) {
    const double sun = horizontal_kwh_m2 * kinds[i];
    days[i] = {sun, day_diffuse_share(geometry, sun)};
  }
  return plane_days(geometry, days, Sky::circumsolar, plane_w_m2);
}

std::array<KindsOfDay, kMonths> all_kinds_of_day(const std::array<ClearnessMonth, 12>& months) {
  std::array<KindsOfDay, kMonths> kinds{};
  for (std::size_t m = 0; m < kMonths; ++m) kinds[m] = kinds_of_day(months[m]);
  return kinds;
}

// What one tilt gets, gathered day by day.
struct TiltSum {
  double tilt_deg;
  PlaneView view;
  Monthly month_kwh_m2{};

  [[nodiscard]] TiltFigure figure() const {
    TiltFigure figure = {
        .tilt_deg = tilt_deg, .year_kwh_m2 = 0, .worst_month_kwh_m2_day = 0, .worst_month = 0};
    for (int m = 0; m < 12; ++m) {
      const double sum = month_kwh_m2[static_cast<std::size_t>(m)];
      const double mean = sum / days_in_month(m);
      figure.year_kwh_m2 += sum;
      if (m == 0 || mean < figure.worst_month_kwh_m2_day) {
        figure.worst_month_kwh_m2_day = mean;
        figure.worst_month = m;
      }
    }
    return figure;
  }
};

}  // namespace

double air_swing_c(double clearness) {
  const double root = clearness / kHargreavesInland;
  return std::min(root * root, kLargestSwing_k);
}

SunYear empty_year(const SiteSky& sky) {
  SunYear year;
  year.days = sky.mean_days;
  year.plane_w_m2.assign(kHoursPerYear, 0.0);
  year.plane_kwh_m2.assign(kDaysPerYear, 0.0);
  year.open_plane_kwh_m2.assign(kDaysPerYear, 0.0);
  year.air_temp_c.resize(kHoursPerYear);
  std::array<double, kHoursPerDay> swing{};
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    const double solar_h = static_cast<double>(h) + 0.5 + sky.solar_minus_clock_h;
    swing[h] = std::cos(2 * pi * (solar_h - kWarmestSolarHour) / kHoursPerDay) / 2;
  }
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      year.air_temp_c[d * kHoursPerDay + h] =
          year.days[d].air_temp_c + year.days[d].air_swing_c * swing[h];
    }
  }
  return year;
}

std::span<double, kHoursPerDay> hours_of(SunYear& year, std::size_t d) {
  return std::span<double, kHoursPerDay>(&year.plane_w_m2[d * kHoursPerDay], kHoursPerDay);
}

double sum_kwh_m2(std::span<const double, kHoursPerDay> w_m2) {
  double wh_m2 = 0;
  for (const double hour : w_m2) wh_m2 += hour;
  return wh_m2 / 1000;
}

void set_day(const DayGeometry& geometry, double horizontal_kwh_m2, std::size_t d, SunYear& year) {
  WeatherDay& day = year.days[d];
  day.sun_horizontal_kwh_m2 = horizontal_kwh_m2;
  day.diffuse_share = day_diffuse_share(geometry, horizontal_kwh_m2);
  year.open_plane_kwh_m2[d] = plane_day(geometry, horizontal_kwh_m2, day.diffuse_share,
                                        Sky::circumsolar, hours_of(year, d));
  year.plane_kwh_m2[d] = sum_kwh_m2(hours_of(year, d));
}

std::vector<WeatherDay> mean_days(const Place& place) {
  const std::vector<double> tops = tops_of_air(place.latitude_deg);
  const std::vector<double> clearness = daily_clearness(place, tops);
  const std::vector<double> air =
      smooth_year(place.air_temp_c, std::vector<double>(kDaysPerYear, 1.0));
  std::vector<WeatherDay> days;
  days.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    const auto d = static_cast<std::size_t>(day - 1);
    const double sunset =
        sunset_hour_angle_rad(place.latitude_deg * pi / 180, declination_rad(day));
    days.push_back({.sun_horizontal_kwh_m2 = clearness[d] * tops[d],
                    .diffuse_share = monthly_diffuse_share(clearness[d], sunset),
                    .air_temp_c = air[d],
                    .air_swing_c = air_swing_c(clearness[d])});
  }
  return days;
}

SiteSky site_sky(const Place& place, const PanelPlane& plane) {
  return {.geometry = year_geometry(place, plane),
          .mean_days = mean_days(place),
          .clearness = clearness_months(place),
          .solar_minus_clock_h = place.longitude_deg / 15 - place.utc_offset_h};
}

SunYear mean_sun_year(const SiteSky& sky) {
  SunYear year = empty_year(sky);
  const std::array<KindsOfDay, kMonths> kinds = all_kinds_of_day(sky.clearness);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    year.open_plane_kwh_m2[d] =
        expected_plane_day(sky.geometry[d], year.days[d].sun_horizontal_kwh_m2,
                           kinds[month_index(d)], hours_of(year, d));
    year.plane_kwh_m2[d] = sum_kwh_m2(hours_of(year, d));
  }
  return year;
}

SunYear synthetic_sun_year(const SiteSky& sky, std::uint64_t seed, int year_number) {
  SunYear year = empty_year(sky);
  const std::vector<double> ranks = synthetic_ranks(sky.clearness, seed, year_number);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const ClearnessMonth& month = sky.clearness[month_index(d)];
    const double mean_kwh_m2 = sky.mean_days[d].sun_horizontal_kwh_m2;
    const double kind = month.mean > 0 ? month.at(ranks[d]) / month.mean : 1;
    set_day(sky.geometry[d], kind * mean_kwh_m2, d, year);
  }
  return year;
}

PanelPlane panel_plane(const Site& site) {
  return {.tilt_deg = site.panel.tilt_deg,
          .azimuth_deg = site.panel.azimuth_deg,
          .albedo = site.place.albedo,
          .shade = site.panel.shade};
}

std::array<SunMonth, 12> sun_months(const SiteSky& sky, const SunYear& year) {
  std::array<SunMonth, 12> months{};
  for (int m = 0; m < 12; ++m) {
    double horizontal = 0;
    double panel = 0;
    double open = 0;
    double top = 0;
    double light_h = 0;
    for (int i = 0; i < days_in_month(m); ++i) {
      const auto d = static_cast<std::size_t>(first_day_of_month(m) - 1 + i);
      horizontal += year.days[d].sun_horizontal_kwh_m2;
      panel += year.plane_kwh_m2[d];
      open += year.open_plane_kwh_m2[d];
      top += sky.geometry[d].extraterrestrial_kwh_m2;
      light_h += sky.geometry[d].day_length_h;
    }
    const double n = days_in_month(m);
    months[static_cast<std::size_t>(m)] = {.sun_horizontal_kwh_m2_day = horizontal / n,
                                           .sun_panel_kwh_m2_day = panel / n,
                                           .clearness = top > 0 ? horizontal / top : 0,
                                           .day_length_h = light_h / n,
                                           .shade_share = open > 0 ? 1 - panel / open : 0};
  }
  return months;
}

TiltStudy compare_tilts(const Place& place, const PanelPlane& plane) {
  std::vector<TiltSum> sums;
  for (int tilt = 0; tilt <= 90; ++tilt) {
    PanelPlane tilted = plane;
    tilted.tilt_deg = tilt;
    sums.push_back({.tilt_deg = tilted.tilt_deg, .view = PlaneView(tilted)});
  }
  const SunPath path(place, plane.shade);
  const std::vector<WeatherDay> days = mean_days(place);
  const std::array<KindsOfDay, kMonths> kinds = all_kinds_of_day(clearness_months(place));
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const DayPath sun = path.day(static_cast<int>(d) + 1);
    for (TiltSum& sum : sums) {
      std::array<double, kHoursPerDay> hours{};
      expected_plane_day(sum.view.of(sun), days[d].sun_horizontal_kwh_m2, kinds[sun.month], hours);
      sum.month_kwh_m2[sun.month] += sum_kwh_m2(hours);
    }
  }
  TiltStudy study;
  for (std::size_t i = 0; i < sums.size(); ++i) {
    const TiltFigure figure = sums[i].figure();
    if (i % 10 == 0) study.tilts.push_back(figure);
    if (i == 0 || figure.year_kwh_m2 > study.best_year.year_kwh_m2) study.best_year = figure;
    if (i == 0 || figure.worst_month_kwh_m2_day > study.best_worst_month.worst_month_kwh_m2_day) {
      study.best_worst_month = figure;
    }
  }
  return study;
}

}  // namespace amptally
