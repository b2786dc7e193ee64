#include "plane_sun.hpp"

#include <cmath>

using namespace amptally;

namespace weather_truth {
namespace {

void add_months(const SiteSky& sky, const SunYear& year, double weight, Monthly& to) {
  const auto months = sun_months(sky, year);
  for (std::size_t m = 0; m < 12; ++m) to[m] += months[m].sun_panel_kwh_m2_day * weight;
}

Monthly mean_months(const SiteSky& sky, const std::vector<SunYear>& years) {
  Monthly mean{};
  for (const SunYear& year : years) {
    add_months(sky, year, 1 / static_cast<double>(years.size()), mean);
  }
  return mean;
}

Monthly file_months(const SiteSky& sky, const WeatherSeries& series) {
  Monthly mean{};
  for (int y = 0; y < series.years; ++y) {
    add_months(sky, series_sun_year(sky, series, y), 1.0 / series.years, mean);
  }
  return mean;
}

// What is left of hours when only their days are kept.
WeatherSeries by_day(const WeatherSeries& hourly) {
  WeatherSeries daily = hourly;
  daily.hourly = false;
  daily.global_wh_m2.clear();
  daily.direct_wh_m2.clear();
  daily.diffuse_wh_m2.clear();
  daily.air_temp_c.clear();
  daily.lines.clear();
  for (std::size_t step = 0; step < hourly.global_wh_m2.size(); ++step) {
    if (step % kHoursPerDay == 0) {
      daily.global_wh_m2.push_back(0);
      daily.lines.push_back(hourly.lines[step]);
    }
    daily.global_wh_m2.back() += hourly.global_wh_m2[step];
  }
  return daily;
}

}  // namespace

SunErrors sun_errors(const StationPlane& plane, const SunYears& years) {
  SunErrors errors;
  errors.plane = plane;
  const Monthly truth = mean_months(years.sky, years.file);
  const Monthly synthetic = mean_months(years.sky, years.synthetic);
  double squares = 0;
  double truth_year = 0;
  double synthetic_year = 0;
  int counted = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    const int days = days_in_month(static_cast<int>(m));
    truth_year += truth[m] * days;
    synthetic_year += synthetic[m] * days;
    errors.pct[m] = truth[m] > 0 ? 100 * (synthetic[m] / truth[m] - 1) : 0;
    if (truth[m] < kPoorMonth_kwh_m2_day) continue;
    ++counted;
    squares += errors.pct[m] * errors.pct[m];
    if (std::abs(errors.pct[m]) > std::abs(errors.worst_pct)) errors.worst_pct = errors.pct[m];
  }
  errors.rms_pct = counted > 0 ? std::sqrt(squares / counted) : 0;
  errors.year_pct = 100 * (synthetic_year / truth_year - 1);
  return errors;
}

bool PlaneMonth::is_low_sun() const {
  const double latitude_deg = std::abs(station->place.latitude_deg);
  if (latitude_deg > 56) return true;
  const bool is_winter =
      station->place.latitude_deg < 0 ? month >= 4 && month <= 7 : month <= 1 || month >= 10;
  return latitude_deg > 35 && tilt_deg >= 60 && is_winter;
}

std::vector<PlaneMonth> plane_months(const Station& station) {
  std::vector<PlaneMonth> found;
  const WeatherSeries daily = by_day(*station.series);
  for (int azimuth = 0; azimuth < 360; azimuth += 45) {
    for (const int tilt : {15, 30, 45, 60, 75, 90}) {
      const PanelPlane plane = {.tilt_deg = static_cast<double>(tilt),
                                .azimuth_deg = static_cast<double>(azimuth)};
      const SiteSky sky = site_sky(station.place, plane);
      const Monthly truth = file_months(sky, *station.series);
      Monthly means{};
      add_months(sky, mean_sun_year(sky), 1, means);
      const Monthly days = file_months(sky, daily);
      const int turned = std::abs(azimuth - static_cast<int>(towards_equator_deg(station.place)));
      for (int month = 0; month < 12; ++month) {
        const auto m = static_cast<std::size_t>(month);
        if (truth[m] < kPoorMonth_kwh_m2_day) continue;
        found.push_back({.station = &station,
                         .from_equator_deg = turned > 180 ? 360 - turned : turned,
                         .tilt_deg = tilt,
                         .month = month,
                         .from_means_pct = 100 * (means[m] / truth[m] - 1),
                         .from_days_pct = 100 * (days[m] / truth[m] - 1)});
      }
    }
  }
  return found;
}

PlaneErrors errors_of(const std::vector<PlaneMonth>& months, double PlaneMonth::*error,
                      const std::function<bool(const PlaneMonth&)>& counts) {
  PlaneErrors errors;
  for (const PlaneMonth& month : months) {
    if (!counts(month)) continue;
    const double pct = month.*error;
    ++errors.months;
    errors.rms_pct += pct * pct;
    errors.mean_pct += pct;
    errors.within_10 += std::abs(pct) <= 10 ? 1 : 0;
    if (std::abs(pct) > std::abs(errors.worst_pct)) errors.worst_pct = pct;
  }
  if (errors.months == 0) return errors;
  errors.rms_pct = std::sqrt(errors.rms_pct / errors.months);
  errors.mean_pct /= errors.months;
  errors.within_10 /= errors.months;
  return errors;
}

}  // namespace weather_truth
