#include "amptally/weather.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "place/day_scores.hpp"
#include "place/plane_check.hpp"
#include "place/plane_irradiance.hpp"
#include "place/sky_month.hpp"
#include "place/sun_path.hpp"
#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;

// Common practice, no source: the air is warmest about three hours after solar noon.
constexpr double kWarmestSolarHour = 15;

double day_diffuse_share(const DayGeometry& day, double horizontal_kwh_m2) {
  const double top = day.extraterrestrial_kwh_m2;
  // The fit passes 1 by 0.8 % on dull summer days.
  return top > 0 ? std::min(1.0, daily_diffuse_share(horizontal_kwh_m2 / top, day.sunset_rad)) : 1;
}

// The days a month is made of: clearness over the month's mean, each as likely as the others.
constexpr std::size_t kKindsOfDay = 20;
using KindsOfDay = std::array<double, kKindsOfDay>;

// The scores that twenty equally likely days stand for.
std::array<double, kKindsOfDay> kind_scores() {
  std::array<double, kKindsOfDay> scores{};
  for (std::size_t i = 0; i < kKindsOfDay; ++i) {
    scores[i] = normal_quantile((static_cast<double>(i) + 0.5) / kKindsOfDay);
  }
  return scores;
}

// Scaled so that their mean is the month's to the last digit, which twenty samples of a curve miss.
KindsOfDay kinds_of_day(const ClearnessMonth& month) {
  static const std::array<double, kKindsOfDay> scores = kind_scores();
  KindsOfDay kinds{};
  double sum = 0;
  for (std::size_t i = 0; i < kKindsOfDay; ++i) {
    kinds[i] = month.mean > 0 ? month.at(scores[i]) / month.mean : 1;
    sum += kinds[i];
  }
  for (double& kind : kinds) kind *= kKindsOfDay / sum;
  return kinds;
}

// Expectation of the plane over the kinds of day of a month, hour by hour; returns it without
// shade. The plane of the mean day would be wrong: how much light is direct bends with clearness,
// so a dull and a clear day together bring a steep panel more than two middling ones.
double expected_plane_day(const DayGeometry& geometry, double horizontal_kwh_m2,
                          const KindsOfDay& kinds, std::span<double, kHoursPerDay> plane_w_m2) {
  std::array<HorizontalDay, kKindsOfDay> days{};
  for (std::size_t i = 0; i < kKindsOfDay; ++i) {
    const double sun = horizontal_kwh_m2 * kinds[i];
    days[i] = {sun, day_diffuse_share(geometry, sun)};
  }
  return plane_days(geometry, days, plane_w_m2);
}

using SkyMonths = std::array<SkyMonth, kMonthsPerYear>;

SkyMonths sky_months(const Place& place) {
  const std::array<ClearnessMonth, 12> clearness = clearness_months(place);
  const std::array<AirMonth, 12> air = air_months(place);
  SkyMonths months;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) months[m] = {clearness[m], air[m]};
  return months;
}

std::array<KindsOfDay, kMonthsPerYear> all_kinds_of_day(const SkyMonths& months) {
  std::array<KindsOfDay, kMonthsPerYear> kinds{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) kinds[m] = kinds_of_day(months[m].clearness);
  return kinds;
}

// Share of a day's swing by which each hour is warmer than the day's mean.
std::array<double, kHoursPerDay> swing_shares(double solar_minus_clock_h) {
  std::array<double, kHoursPerDay> shares{};
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    const double solar_h = static_cast<double>(h) + 0.5 + solar_minus_clock_h;  // mid-hour
    shares[h] = std::cos(2 * pi * (solar_h - kWarmestSolarHour) / kHoursPerDay) / 2;
  }
  return shares;
}

// The hours of all days, by each day's mean and swing.
void fill_air(const SiteSky& sky, SunYear& year) {
  const std::array<double, kHoursPerDay> shares = swing_shares(sky.solar_minus_clock_h);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const WeatherDay& day = year.days[d];
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      year.air_temp_c[d * kHoursPerDay + h] = day.air_temp_c + day.air_swing_c * shares[h];
    }
  }
}

SunYear year_without_air(const SiteSky& sky) {
  SunYear year;
  year.days = sky.mean_days;
  year.plane_w_m2.assign(kHoursPerYear, 0.0);
  year.plane_kwh_m2.assign(kDaysPerYear, 0.0);
  year.open_plane_kwh_m2.assign(kDaysPerYear, 0.0);
  year.air_temp_c.resize(kHoursPerYear);
  return year;
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

SunYear empty_year(const SiteSky& sky) {
  SunYear year = year_without_air(sky);
  fill_air(sky, year);
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
  year.days[d].sun_horizontal_kwh_m2 = horizontal_kwh_m2;
  year.open_plane_kwh_m2[d] =
      plane_day(geometry, horizontal_kwh_m2, day_diffuse_share(geometry, horizontal_kwh_m2),
                hours_of(year, d));
  year.plane_kwh_m2[d] = sum_kwh_m2(hours_of(year, d));
}

SiteSky site_sky(const Place& place, const PanelPlane& plane) {
  return {.geometry = year_geometry(place, plane),
          .mean_days = mean_days(place),
          .months = std::make_shared<const SkyMonths>(sky_months(place)),
          .solar_minus_clock_h = place.longitude_deg / 15 - place.utc_offset_h};
}

SiteSky in_other_climate(SiteSky sky, const Place& place) {
  sky.mean_days = mean_days(place);
  sky.months = std::make_shared<const SkyMonths>(sky_months(place));
  return sky;
}

SunYear mean_sun_year(const SiteSky& sky) {
  SunYear year = empty_year(sky);
  const std::array<KindsOfDay, kMonthsPerYear> kinds = all_kinds_of_day(*sky.months);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    year.open_plane_kwh_m2[d] =
        expected_plane_day(sky.geometry[d], year.days[d].sun_horizontal_kwh_m2,
                           kinds[month_index(d)], hours_of(year, d));
    year.plane_kwh_m2[d] = sum_kwh_m2(hours_of(year, d));
  }
  return year;
}

SunYear synthetic_sun_year(const SiteSky& sky, std::uint64_t seed, int year_number) {
  SunYear year = year_without_air(sky);
  Monthly day_to_day{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    day_to_day[m] = (*sky.months)[m].clearness.day_to_day;
  }
  const DayScores scores = day_scores(seed, year_number, day_to_day);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const auto& [clearness, air] = (*sky.months)[month_index(d)];
    const double kind = clearness.mean > 0 ? clearness.at(scores.clearness[d]) / clearness.mean : 1;
    WeatherDay& day = year.days[d];
    day.air_temp_c += air.warmer_k(scores.clearness[d], scores.air[d]);
    day.air_swing_c *= swing_ratio(kind);
    set_day(sky.geometry[d], kind * day.sun_horizontal_kwh_m2, d, year);
  }
  fill_air(sky, year);
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
    const auto first = static_cast<std::size_t>(first_day_of_month(m) - 1);
    const auto count = static_cast<std::size_t>(days_in_month(m));
    for (std::size_t d = first; d < first + count; ++d) {
      horizontal += year.days[d].sun_horizontal_kwh_m2;
      panel += year.plane_kwh_m2[d];
      open += year.open_plane_kwh_m2[d];
      top += sky.geometry[d].extraterrestrial_kwh_m2;
      light_h += sky.geometry[d].day_length_h;
    }
    const double n = days_in_month(m);
    months[static_cast<std::size_t>(m)] = {
        .sun_horizontal_kwh_m2_day = horizontal / n,
        .sun_panel_kwh_m2_day = panel / n,
        .clearness = top > 0 ? horizontal / top : 0,
        .day_length_h = light_h / n,
        .shade_share = open > 0 ? 1 - panel / open : 0,
        .day_spread_share =
            top > 0 ? (*sky.months)[static_cast<std::size_t>(m)].clearness.spread_share : 0};
  }
  return months;
}

double day_spread_share(const std::array<SunMonth, 12>& months) {
  double squares = 0;
  for (const SunMonth& month : months) squares += month.day_spread_share * month.day_spread_share;
  return std::sqrt(squares / static_cast<double>(months.size()));
}

TiltStudy compare_tilts(const Place& place, const PanelPlane& plane) {
  require_valid(place, plane);
  // All tilts go through the year side by side: following the sun costs more than turning its
  // light.
  std::vector<TiltSum> sums;
  for (int tilt = 0; tilt <= 90; ++tilt) {
    PanelPlane tilted = plane;
    tilted.tilt_deg = tilt;
    sums.push_back({.tilt_deg = tilted.tilt_deg, .view = PlaneView(tilted)});
  }
  const SunPath path(place, plane.shade);
  const std::vector<WeatherDay> days = mean_days(place);
  const std::array<KindsOfDay, kMonthsPerYear> kinds = all_kinds_of_day(sky_months(place));
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

}  // namespace amptally::inline v0_1
