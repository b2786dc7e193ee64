#include "place/sun_path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "place/plane_check.hpp"
#include "site/problem_list.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;

constexpr double kRadPerHour = pi / 12;

// Chosen: 5 min between looks at the sun. Halving it moves no month of the examples by 0.1 %.
constexpr int kSamplesPerHour = 12;
constexpr std::size_t kMostSamplesPerDay = std::size_t{kHoursPerDay} * (kSamplesPerHour + 1);

double elevation_deg(const Direction& d) {
  return std::asin(std::clamp(d.up, -1.0, 1.0)) / kRadPerDeg;
}

double azimuth_deg(const Direction& d) {
  const double a = std::atan2(d.east, d.north) / kRadPerDeg;
  return a < 0 ? a + 360 : a;
}

struct HourAngle {
  double rad;
  Turn turn;
};

struct Interval {
  HourAngle from;
  HourAngle to;

  [[nodiscard]] double length_rad() const { return to.rad - from.rad; }
};

// The part of a clock hour in which the sun is up; empty (from >= to) when dark.
// The clock may be half a day off the sun, so the hour is looked for one turn either way too.
Interval sun_up_part(const Interval& hour, const HourAngle& sunset) {
  if (sunset.rad >= pi) return hour;  // polar day: through midnight
  const HourAngle sunrise = {-sunset.rad, {sunset.turn.cos, -sunset.turn.sin}};
  for (const double round_rad : {0.0, 2 * pi, -2 * pi}) {
    const HourAngle from = {hour.from.rad + round_rad, hour.from.turn};
    const HourAngle to = {hour.to.rad + round_rad, hour.to.turn};
    const Interval part = {from.rad < sunrise.rad ? sunrise : from,
                           sunset.rad < to.rad ? sunset : to};
    if (part.from.rad < part.to.rad) return part;
  }
  return {sunrise, sunrise};
}

// The shape of a day's diffuse irradiation, Liu & Jordan's: the sun's height, which goes as cos w -
// cos ws. Its integral up to w.
//
// In polar day the sun never comes down to 0, and -tan(latitude) tan(declination), below -1, stands
// for cos ws: towards the pole all hours become alike.
double diffuse_up_to(const HourAngle& w, double cos_sunset) {
  return w.turn.sin - w.rad * cos_sunset;
}

// Share of the beam that comes through clear air.
//
// Source: Hottel 1976, Solar Energy 18(2), 129-134, a0 + a1 exp(-k / sine of the sun's height) for
// the standard atmosphere with 23 km of visibility, at sea level: a0 = 0.4237 - 0.00821 x 6^2,
// a1 = 0.5055 + 0.00595 x 6.5^2, k = 0.2711 + 0.01858 x 2.5^2 (form read in the paper's abstract,
// coefficients at second hand, alike in several public codes). Only its course over the day counts
// here.
double clear_air_passes(double height_sine) {
  constexpr double kA0 = 0.4237 - 0.00821 * 36;
  constexpr double kA1 = 0.5055 + 0.00595 * 42.25;
  constexpr double kExtinction = 0.2711 + 0.01858 * 6.25;
  // The sun's edge may lie below the horizon by rounding.
  return height_sine > 0 ? kA0 + kA1 * std::exp(-kExtinction / height_sine) : 0;
}

// Looks at the sun evenly spaced over part of an hour, each in the middle of its piece. Returns the
// integral over it of the clear sky's beam on the horizontal, over that above the air.
double add_samples(const Interval& part, Turn latitude, Turn declination,
                   std::span<const Screen> screens, std::vector<SunSample>& samples) {
  const double length = part.length_rad();
  const int n = std::max(1, static_cast<int>(std::ceil(kSamplesPerHour * length / kRadPerHour)));
  const Turn half = turn(length / n / 2);
  const Turn step = half + half;
  Turn w = part.from.turn + half;
  const std::size_t first = samples.size();
  samples.resize(first + static_cast<std::size_t>(n));
  double beam = 0;
  for (SunSample& sample : std::span(samples).subspan(first)) {
    const Direction sun = sun_direction(latitude, declination, w);
    sample.beam = sun * clear_air_passes(sun.up);
    sample.passes_share = passes_share(screens, sun);
    beam += sample.beam.up;
    w = w + step;
  }
  return beam * length / n;
}

// Makes one of the ratios sum to 1 over the hours.
void make_sum_to_one(double HourGeometry::*ratio, DayGeometry& day) {
  double sum = 0;
  for (const HourGeometry& hour : day.hours) sum += hour.*ratio;
  if (sum <= 0) return;  // polar night
  for (HourGeometry& hour : day.hours) hour.*ratio /= sum;
}

void fill_beam(std::span<const SunSample> samples, const Direction& normal, HourGeometry& hour) {
  double horizontal = 0;
  double open = 0;
  double shaded = 0;
  for (const SunSample& sample : samples) {
    const double facing = std::max(0.0, normal.dot(sample.beam));
    horizontal += sample.beam.up;
    open += facing;
    shaded += facing * sample.passes_share;
  }
  if (horizontal <= 0) return;
  hour.open_beam_ratio = open / horizontal;
  hour.beam_ratio = shaded / horizontal;
}

}  // namespace

Direction sun_direction(const Turn& latitude, const Turn& declination, const Turn& hour_angle) {
  return {-declination.cos * hour_angle.sin,
          latitude.cos * declination.sin - latitude.sin * declination.cos * hour_angle.cos,
          latitude.sin * declination.sin + latitude.cos * declination.cos * hour_angle.cos};
}

Direction plane_normal(double tilt_rad, double azimuth_from_north_rad) {
  return {std::sin(tilt_rad) * std::sin(azimuth_from_north_rad),
          std::sin(tilt_rad) * std::cos(azimuth_from_north_rad), std::cos(tilt_rad)};
}

double cos_incidence(double latitude_rad, double declination_rad, double hour_angle_rad,
                     double tilt_rad, double azimuth_from_north_rad) {
  return plane_normal(tilt_rad, azimuth_from_north_rad)
      .dot(sun_direction(turn(latitude_rad), turn(declination_rad), turn(hour_angle_rad)));
}

SunPosition sun_position(double latitude_deg, double longitude_deg, double utc_offset_h, int day,
                         double clock_h) {
  const double solar_h =
      clock_h + longitude_deg / 15 - utc_offset_h + equation_of_time_min(day) / 60;
  const Direction sun = sun_direction(turn(latitude_deg * kRadPerDeg), turn(declination_rad(day)),
                                      turn((solar_h - 12) * kRadPerHour));
  return {.elevation_deg = elevation_deg(sun), .azimuth_deg = azimuth_deg(sun)};
}

SunPath::SunPath(const Place& place, std::span<const Obstacle> shade)
    : latitude_rad_(place.latitude_deg * kRadPerDeg),
      latitude_(turn(latitude_rad_)),
      mean_solar_minus_clock_h_(place.longitude_deg / 15 - place.utc_offset_h),
      screens_(screens_by_month(shade)) {
  for (std::size_t h = 0; h < hour_turns_.size(); ++h) {
    hour_turns_[h] = turn(static_cast<double>(h) * kRadPerHour);
  }
}

DayPath SunPath::day(int day) const {
  const double delta = declination_rad(day);
  const Turn declination = turn(delta);
  const double ws = sunset_hour_angle_rad(latitude_rad_, delta);
  const HourAngle sunset = {ws, turn(ws)};
  const double minus_tan_tan = -std::tan(latitude_rad_) * std::tan(delta);
  const double cos_sunset = minus_tan_tan < -1 ? minus_tan_tan : sunset.turn.cos;
  const double solar_minus_clock_h = mean_solar_minus_clock_h_ + equation_of_time_min(day) / 60;
  const Turn midnight = turn((solar_minus_clock_h - 12) * kRadPerHour);
  const auto month = static_cast<std::size_t>(month_of_day(day));
  DayPath path;
  path.month = month;
  path.geometry.extraterrestrial_kwh_m2 = extraterrestrial_kwh_m2_day(
      latitude_rad_, delta, eccentricity_factor(day), kSolarConstant_w_m2);
  path.geometry.sunset_rad = ws;
  path.geometry.day_length_h = 24 / pi * ws;
  path.samples.reserve(kMostSamplesPerDay);
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    path.first_sample[h] = path.samples.size();
    const double from_rad = (static_cast<double>(h) + solar_minus_clock_h - 12) * kRadPerHour;
    const Interval part = sun_up_part({{from_rad, midnight + hour_turns_[h]},
                                       {from_rad + kRadPerHour, midnight + hour_turns_[h + 1]}},
                                      sunset);
    if (part.from.rad >= part.to.rad) continue;
    if (path.geometry.last_light < 0) path.geometry.first_light = static_cast<int>(h);
    path.geometry.last_light = static_cast<int>(h);
    HourGeometry& hour = path.geometry.hours[h];
    // To the last bit in polar day: what is left of it would be a night.
    hour.lit_share = ws >= pi ? 1 : part.length_rad() / kRadPerHour;
    hour.diffuse_ratio = diffuse_up_to(part.to, cos_sunset) - diffuse_up_to(part.from, cos_sunset);
    hour.day_beam_ratio = add_samples(part, latitude_, declination, screens_[month], path.samples);
  }
  path.first_sample.back() = path.samples.size();
  make_sum_to_one(&HourGeometry::day_beam_ratio, path.geometry);
  make_sum_to_one(&HourGeometry::diffuse_ratio, path.geometry);
  return path;
}

PlaneView::PlaneView(const PanelPlane& plane)
    : normal_(plane_normal(plane.tilt_deg * kRadPerDeg, plane.azimuth_deg * kRadPerDeg)),
      open_sky_((1 + normal_.up) / 2),
      sky_(sky_views(plane.shade, normal_, open_sky_)),
      ground_(plane.albedo * (1 - normal_.up) / 2) {}

DayGeometry PlaneView::of(const DayPath& path) const {
  DayGeometry day = path.geometry;
  day.open_sky_view = open_sky_;
  day.sky_view = sky_[path.month];
  day.ground_view = ground_;
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    fill_beam(path.samples_of(h), normal_, day.hours[h]);
  }
  return day;
}

void require_valid(const Place& place, const PanelPlane& plane) {
  ProblemList problems;
  check_place(place, problems);
  check_plane(plane.tilt_deg, plane.azimuth_deg, plane.shade, plane.albedo, problems);
  require_none(problems.take());
}

std::vector<DayGeometry> year_geometry(const Place& place, const PanelPlane& plane) {
  require_valid(place, plane);
  const SunPath path(place, plane.shade);
  const PlaneView view(plane);
  std::vector<DayGeometry> days;
  days.reserve(kDaysPerYear);
  for (int d = 1; d <= kDaysPerYear; ++d) days.push_back(view.of(path.day(d)));
  return days;
}

}  // namespace amptally::inline v0_1
