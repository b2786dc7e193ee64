#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/weather.hpp"

#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {
namespace {

// A value this many times the extraterrestrial one cannot be: bright clouds add a quarter at most.
constexpr double kMostOverTop = 1.25;

// Chosen: twilight and clocks half an hour off leave a little light in hours that geometry calls
// dark.
constexpr double kTwilight_wh_m2 = 25;

double top_wh_m2(const DayGeometry& day, std::size_t hour) {
  return 1000 * day.extraterrestrial_kwh_m2 * day.hours[hour].diffuse_ratio;
}

void refuse(const WeatherSeries& series, std::size_t step, double value_wh_m2, double top) {
  throw DataError(
      fmt::format("{}:{}", series.path, series.lines[step]),
      fmt::format("{:.0f} Wh/m2 of sun in {} is more than {} times the {:.0f} that reach "
                  "the top of the air there then (is the unit or the clock wrong?)",
                  value_wh_m2, series.hourly ? "an hour" : "a day", kMostOverTop, top));
}

// The most that any of the three hours around could have above the air.
double top_around_wh_m2(const DayGeometry& day, std::size_t hour) {
  double top = top_wh_m2(day, hour);
  if (hour > 0) top = std::max(top, top_wh_m2(day, hour - 1));
  if (hour + 1 < kHoursPerDay) top = std::max(top, top_wh_m2(day, hour + 1));
  return top;
}

// Chosen: what meters may be out by, of a figure, beside kTwilight_wh_m2. In five published years
// by the hour diffuse light never passes global.
constexpr double kMeters_share = 0.10;

// Chosen: by how much more direct light may pass global; a measured year (Lyngby 2017) has 149 in
// its worst hour.
constexpr double kDirectSlack_wh_m2 = 200;

// Direct light is measured square to the sun. The mean sine of the sun's height while it is up is
// the hour's extraterrestrial light on the horizontal over that square to the sun.
double direct_on_level_wh_m2(const WeatherSeries& series, const DayGeometry& day, double sun_wh_m2,
                             std::size_t hour, std::size_t step) {
  const double top = top_wh_m2(day, hour);
  if (top <= 0) return 0;
  const double square = sun_wh_m2 * day.hours[hour].lit_share;
  return series.direct_wh_m2[step] * top / square;
}

// What of an hour's direct light is refused: square to the sun it cannot pass the sun above the
// air, and what of it reaches the level ground is part of the global light.
void check_direct(const WeatherSeries& series, const DayGeometry& day, double sun_wh_m2,
                  std::size_t hour, std::size_t step) {
  if (series.direct_wh_m2.empty()) return;
  const double direct = series.direct_wh_m2[step];
  const bool dark = top_around_wh_m2(day, hour) <= 0;
  const double most = dark ? kTwilight_wh_m2 : (1 + kMeters_share) * sun_wh_m2;
  const double level = direct_on_level_wh_m2(series, day, sun_wh_m2, hour, step);
  const double global = series.global_wh_m2[step];
  const bool above_global = level > (1 + kMeters_share) * global + kDirectSlack_wh_m2;
  if (direct <= most && !above_global) return;
  std::string what;
  if (dark) {
    what = "in an hour in which the sun is down there (is the clock wrong?)";
  } else if (direct > most) {
    what = fmt::format(
        "in an hour are more than the {:.0f} of the sun above the air (is the unit or the column "
        "wrong?)",
        sun_wh_m2);
  } else {
    what = fmt::format(
        "in an hour put {:.0f} on level ground, more than its {:.0f} of global light (are the "
        "columns exchanged, or the clock wrong?)",
        level, global);
  }
  throw DataError(fmt::format("{}:{}", series.path, series.lines[step]),
                  fmt::format("{:.0f} Wh/m2 of direct light {}", direct, what));
}

// The sky's light is part of the global light.
void check_diffuse(const WeatherSeries& series, std::size_t step) {
  if (series.diffuse_wh_m2.empty()) return;
  const double diffuse = series.diffuse_wh_m2[step];
  const double global = series.global_wh_m2[step];
  if (diffuse <= (1 + kMeters_share) * global + kTwilight_wh_m2) return;
  throw DataError(
      fmt::format("{}:{}", series.path, series.lines[step]),
      fmt::format("{:.0f} Wh/m2 of diffuse light in an hour are more than its {:.0f} of "
                  "global light (are the columns exchanged?)",
                  diffuse, global));
}

HorizontalHour read_hour(const WeatherSeries& series, const DayGeometry& day, double sun_wh_m2,
                         std::size_t hour, std::size_t step) {
  const double global = series.global_wh_m2[step];
  const double top = top_wh_m2(day, hour);
  const bool has_direct = !series.direct_wh_m2.empty();
  const bool has_diffuse = !series.diffuse_wh_m2.empty();
  // Light before sunrise can only be the sky's.
  if (top <= 0) return {.beam_wh_m2 = 0, .diffuse_wh_m2 = global};
  if (has_direct) {
    const double beam = direct_on_level_wh_m2(series, day, sun_wh_m2, hour, step);
    // What is missing to the global figure is the sky's; meters disagree by a little, hence not
    // below 0.
    return {
        .beam_wh_m2 = beam,
        .diffuse_wh_m2 = has_diffuse ? series.diffuse_wh_m2[step] : std::max(0.0, global - beam)};
  }
  const double diffuse = has_diffuse ? std::min(series.diffuse_wh_m2[step], global)
                                     : global * hourly_diffuse_share(global / top);
  return {.beam_wh_m2 = global - diffuse, .diffuse_wh_m2 = diffuse};
}

void fill_hourly_day(const SiteSky& sky, const WeatherSeries& series, std::size_t first_step,
                     std::size_t d, SunYear& year) {
  const DayGeometry& geometry = sky.geometry[d];
  // Square to the sun, above the air.
  const double sun_wh_m2 = kSolarConstant_w_m2 * eccentricity_factor(static_cast<int>(d) + 1);
  double global = 0;
  double open = 0;
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    const std::size_t step = first_step + d * kHoursPerDay + h;
    const double value = series.global_wh_m2[step];
    const double most = kMostOverTop * top_around_wh_m2(geometry, h) + kTwilight_wh_m2;
    if (value > most) refuse(series, step, value, top_around_wh_m2(geometry, h));
    check_direct(series, geometry, sun_wh_m2, h, step);
    check_diffuse(series, step);
    const HorizontalHour hour = read_hour(series, geometry, sun_wh_m2, h, step);
    const PlaneHour plane = plane_hour(geometry, h, hour);
    year.plane_w_m2[d * kHoursPerDay + h] = plane.shaded_wh_m2;
    open += plane.open_wh_m2;
    global += value;
  }
  year.days[d].sun_horizontal_kwh_m2 = global / 1000;
  year.open_plane_kwh_m2[d] = open / 1000;
}

void fill_daily_day(const SiteSky& sky, const WeatherSeries& series, std::size_t first_step,
                    std::size_t d, SunYear& year) {
  const DayGeometry& geometry = sky.geometry[d];
  const double value = series.global_wh_m2[first_step + d];
  const double top = 1000 * geometry.extraterrestrial_kwh_m2;
  if (value > kMostOverTop * top + kTwilight_wh_m2) refuse(series, first_step + d, value, top);
  set_day(geometry, value / 1000, d, year);
}

void fill_air(const WeatherSeries& series, std::size_t first_step, SunYear& year) {
  if (series.air_temp_c.empty()) return;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    double mean = 0;
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      const std::size_t i = d * kHoursPerDay + h;
      if (series.hourly) {
        year.air_temp_c[i] = series.air_temp_c[first_step + i];
      } else {  // the day's own mean, with the mean year's swing
        year.air_temp_c[i] += series.air_temp_c[first_step + d] - year.days[d].air_temp_c;
      }
      mean += year.air_temp_c[i] / kHoursPerDay;
    }
    // Not before all hours are done: until here it is the mean year's, by which they are moved.
    year.days[d].air_temp_c = mean;
  }
}

}  // namespace

Place place_of(const WeatherSeries& series, Place place) {
  if (series.has_position) {
    place.latitude_deg = series.latitude_deg;
    place.longitude_deg = series.longitude_deg;
    place.utc_offset_h = series.utc_offset_h;
  }
  const std::size_t steps_a_day = series.hourly ? kHoursPerDay : 1;
  Monthly sun_wh_m2{};
  Monthly air_sum_c{};
  for (std::size_t step = 0; step < series.global_wh_m2.size(); ++step) {
    const std::size_t d = step / steps_a_day % kDaysPerYear;
    const auto month = static_cast<std::size_t>(month_of_day(static_cast<int>(d) + 1));
    sun_wh_m2[month] += series.global_wh_m2[step];
    if (!series.air_temp_c.empty()) air_sum_c[month] += series.air_temp_c[step];
  }
  for (std::size_t m = 0; m < 12; ++m) {
    const double days = days_in_month(static_cast<int>(m)) * static_cast<double>(series.years);
    place.sun_horizontal_kwh_m2_day[m] = sun_wh_m2[m] / days / 1000;
    if (!series.air_temp_c.empty()) {
      place.air_temp_c[m] = air_sum_c[m] / days / static_cast<double>(steps_a_day);
    }
  }
  place.climate.sun = series.name;
  place.climate.distance_km = 0;
  place.climate.uncertainty_share = 0;
  return place;
}

SunYear series_sun_year(const SiteSky& sky, const WeatherSeries& series, int year_number) {
  SunYear year = empty_year(sky);
  const std::size_t first_step = series.steps_a_year() * static_cast<std::size_t>(year_number);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    if (series.hourly) {
      fill_hourly_day(sky, series, first_step, d, year);
      year.plane_kwh_m2[d] = sum_kwh_m2(hours_of(year, d));
    } else {
      fill_daily_day(sky, series, first_step, d, year);
    }
  }
  fill_air(series, first_step, year);
  return year;
}

std::array<SunMonth, 12> series_months(const SiteSky& sky, const WeatherSeries& series) {
  std::array<SunMonth, 12> mean{};
  std::array<double, 12> sums{};
  std::array<double, 12> squares{};
  std::array<int, 12> days{};
  for (int y = 0; y < series.years; ++y) {
    const SunYear year = series_sun_year(sky, series, y);
    const std::array<SunMonth, 12> months = sun_months(sky, year);
    const double part = 1.0 / series.years;
    for (std::size_t m = 0; m < 12; ++m) {
      mean[m].sun_horizontal_kwh_m2_day += part * months[m].sun_horizontal_kwh_m2_day;
      mean[m].sun_panel_kwh_m2_day += part * months[m].sun_panel_kwh_m2_day;
      mean[m].clearness += part * months[m].clearness;
      mean[m].day_length_h = months[m].day_length_h;
      mean[m].shade_share += part * months[m].shade_share;
    }
    for (std::size_t d = 0; d < kDaysPerYear; ++d) {
      const double top = sky.geometry[d].extraterrestrial_kwh_m2;
      if (top <= 0) continue;
      const double clearness = year.days[d].sun_horizontal_kwh_m2 / top;
      const std::size_t m = month_index(d);
      sums[m] += clearness;
      squares[m] += clearness * clearness;
      ++days[m];
    }
  }
  for (std::size_t m = 0; m < 12; ++m) {
    if (sums[m] <= 0) continue;
    const double middle = sums[m] / days[m];
    const double variance = std::max(0.0, squares[m] / days[m] - middle * middle);
    mean[m].day_spread_share = std::sqrt(variance) / middle;
  }
  return mean;
}

}  // namespace amptally::inline v0_1
