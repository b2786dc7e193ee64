#include "sun_path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace amptally {
namespace {

using std::numbers::pi;

constexpr double kRadPerDeg = pi / 180;
constexpr double kRadPerHour = pi / 12;

// Chosen: 5 min between looks at the sun. Halving it moves no month of the examples by 0.1 %.
constexpr int kSamplesPerHour = 12;

// Chosen: patches of the sky for the obstacles' share of it, degrees.
constexpr int kPatchElevation_deg = 2;
constexpr int kPatchAzimuth_deg = 3;

// Common practice, no source: light from around the sun is not multiplied beyond a sun 5 deg high.
constexpr double kLargestBeamRatio = 11.47;

bool stands_in(const Obstacle& obstacle, double elevation_deg, double azimuth_deg) {
  if (elevation_deg >= obstacle.elevation_deg) return false;
  double width = std::fmod(obstacle.azimuth_to_deg - obstacle.azimuth_from_deg, 360.0);
  if (width <= 0) width += 360;  // 0..360 is all round
  double from = std::fmod(azimuth_deg - obstacle.azimuth_from_deg, 360.0);
  if (from < 0) from += 360;
  return from <= width;
}

// Share of light from a direction that gets past the obstacles of a month. Where two stand in line
// the denser one counts.
double passes_share(std::span<const Obstacle> shade, int month, double elevation_deg,
                    double azimuth_deg) {
  double blocked = 0;
  for (const Obstacle& obstacle : shade) {
    if (obstacle.months.test(static_cast<std::size_t>(month)) &&
        stands_in(obstacle, elevation_deg, azimuth_deg)) {
      blocked = std::max(blocked, obstacle.blocks_share);
    }
  }
  return 1 - blocked;
}

double elevation_deg(const Direction& d) {
  return std::asin(std::clamp(d.up, -1.0, 1.0)) / kRadPerDeg;
}

double azimuth_deg(const Direction& d) {
  const double a = std::atan2(d.east, d.north) / kRadPerDeg;
  return a < 0 ? a + 360 : a;
}

// Integral of the Collares-Pereira & Rabl shape, (a + b cos w)(cos w - cos ws), up to w.
double global_shape_integral(double w, double ws) {
  const double a = 0.409 + 0.5016 * std::sin(ws - pi / 3);
  const double b = 0.6609 - 0.4767 * std::sin(ws - pi / 3);
  return a * std::sin(w) + b * (w / 2 + std::sin(2 * w) / 4) -
         std::cos(ws) * (a * w + b * std::sin(w));
}

// Integral of the Liu & Jordan shape, cos w - cos ws, up to w.
double diffuse_shape_integral(double w, double ws) { return std::sin(w) - w * std::cos(ws); }

struct Interval {
  double from_rad;
  double to_rad;
};

// The part of a clock hour, as hour angles, in which the sun is up; empty (from >= to) when dark.
// The clock may be half a day off the sun, so the hour is looked for one turn either way too.
Interval sun_up_part(double hour_from_rad, double sunset_rad) {
  for (const double turn : {0.0, 2 * pi, -2 * pi}) {
    const Interval part = {std::max(hour_from_rad + turn, -sunset_rad),
                           std::min(hour_from_rad + kRadPerHour + turn, sunset_rad)};
    if (part.from_rad < part.to_rad) return part;
  }
  return {0, 0};
}

struct DaySun {
  double latitude_rad;
  double declination_rad;
  int month;
};

void add_samples(const Interval& part, const DaySun& day, std::span<const Obstacle> shade,
                 std::vector<SunSample>& samples) {
  const double length = part.to_rad - part.from_rad;
  const int n = std::max(1, static_cast<int>(std::ceil(kSamplesPerHour * length / kRadPerHour)));
  for (int i = 0; i < n; ++i) {
    const double w = part.from_rad + (i + 0.5) * length / n;
    const Direction sun = sun_direction(day.latitude_rad, day.declination_rad, w);
    const double passes =
        shade.empty() ? 1 : passes_share(shade, day.month, elevation_deg(sun), azimuth_deg(sun));
    samples.push_back({sun, passes});
  }
}

void make_ratios_sum_to_one(DayGeometry& day) {
  double global = 0;
  double diffuse = 0;
  for (const HourGeometry& hour : day.hours) {
    global += hour.global_ratio;
    diffuse += hour.diffuse_ratio;
  }
  if (global <= 0 || diffuse <= 0) return;  // polar night
  for (HourGeometry& hour : day.hours) {
    hour.global_ratio /= global;
    hour.diffuse_ratio /= diffuse;
  }
}

// Share of an isotropic sky's light that a plane catches past a month's obstacles; (1 + cos tilt)/2
// under an open sky.
double sky_view(const Direction& normal, std::span<const Obstacle> shade, int month) {
  double caught = 0;
  for (int e = 0; e < 90; e += kPatchElevation_deg) {
    const double elevation = e + kPatchElevation_deg / 2.0;
    for (int a = 0; a < 360; a += kPatchAzimuth_deg) {
      const double azimuth = a + kPatchAzimuth_deg / 2.0;
      const double flat = std::cos(elevation * kRadPerDeg);
      const Direction to = {flat * std::sin(azimuth * kRadPerDeg),
                            flat * std::cos(azimuth * kRadPerDeg),
                            std::sin(elevation * kRadPerDeg)};
      const double facing = std::max(0.0, normal.dot(to));
      caught += facing * flat * passes_share(shade, month, elevation, azimuth);
    }
  }
  return caught * (kPatchElevation_deg * kRadPerDeg) * (kPatchAzimuth_deg * kRadPerDeg) / pi;
}

std::array<double, 12> sky_views(const PanelPlane& plane, const Direction& normal, double open) {
  std::array<double, 12> views{};
  if (plane.shade.empty()) {
    views.fill(open);
    return views;
  }
  // The patches' own rounding cancels in the ratio to the same sum without obstacles.
  const double open_sum = sky_view(normal, {}, 0);
  for (int month = 0; month < 12; ++month) {
    views[static_cast<std::size_t>(month)] = open * sky_view(normal, plane.shade, month) / open_sum;
  }
  return views;
}

void fill_beam(const SunPath& path, std::size_t hour_of_year, const Direction& normal,
               HourGeometry& hour) {
  double horizontal = 0;
  double open = 0;
  double shaded = 0;
  for (std::size_t i = path.first_sample[hour_of_year]; i < path.first_sample[hour_of_year + 1];
       ++i) {
    const SunSample& sample = path.samples[i];
    const double facing = std::max(0.0, normal.dot(sample.sun));
    horizontal += std::max(0.0, sample.sun.up);
    open += facing;
    shaded += facing * sample.passes_share;
  }
  if (horizontal <= 0) return;
  hour.open_beam_ratio = open / horizontal;
  hour.beam_ratio = shaded / horizontal;
}

}  // namespace

Direction sun_direction(double latitude_rad, double declination_rad, double hour_angle_rad) {
  const double sin_phi = std::sin(latitude_rad);
  const double cos_phi = std::cos(latitude_rad);
  const double sin_delta = std::sin(declination_rad);
  const double cos_delta = std::cos(declination_rad);
  const double cos_w = std::cos(hour_angle_rad);
  return {-cos_delta * std::sin(hour_angle_rad), cos_phi * sin_delta - sin_phi * cos_delta * cos_w,
          sin_phi * sin_delta + cos_phi * cos_delta * cos_w};
}

Direction plane_normal(double tilt_rad, double azimuth_from_north_rad) {
  return {std::sin(tilt_rad) * std::sin(azimuth_from_north_rad),
          std::sin(tilt_rad) * std::cos(azimuth_from_north_rad), std::cos(tilt_rad)};
}

double cos_incidence(double latitude_rad, double declination_rad, double hour_angle_rad,
                     double tilt_rad, double azimuth_from_north_rad) {
  return plane_normal(tilt_rad, azimuth_from_north_rad)
      .dot(sun_direction(latitude_rad, declination_rad, hour_angle_rad));
}

SunPosition sun_position(double latitude_deg, double longitude_deg, double utc_offset_h, int day,
                         double clock_h) {
  const double solar_h =
      clock_h + longitude_deg / 15 - utc_offset_h + equation_of_time_min(day) / 60;
  const Direction sun =
      sun_direction(latitude_deg * kRadPerDeg, declination_rad(day), (solar_h - 12) * kRadPerHour);
  return {.elevation_deg = elevation_deg(sun), .azimuth_deg = azimuth_deg(sun)};
}

SunPath sun_path(const Place& place, std::span<const Obstacle> shade) {
  SunPath path;
  path.days.resize(kDaysPerYear);
  path.first_sample.reserve(kHoursPerYear + 1);
  path.samples.reserve(static_cast<std::size_t>(kHoursPerYear) / 2 * (kSamplesPerHour + 1));
  const double latitude_rad = place.latitude_deg * kRadPerDeg;
  for (int d = 1; d <= kDaysPerYear; ++d) {
    const DaySun sun = {latitude_rad, declination_rad(d), month_of_day(d)};
    DayGeometry& day = path.days[static_cast<std::size_t>(d - 1)];
    const double ws = sunset_hour_angle_rad(latitude_rad, sun.declination_rad);
    const double solar_minus_clock_h =
        place.longitude_deg / 15 - place.utc_offset_h + equation_of_time_min(d) / 60;
    day.extraterrestrial_kwh_m2 = extraterrestrial_kwh_m2_day(place.latitude_deg, d);
    day.sunset_rad = ws;
    day.day_length_h = 24 / pi * ws;
    for (int h = 0; h < kHoursPerDay; ++h) {
      path.first_sample.push_back(path.samples.size());
      const Interval part = sun_up_part((h + solar_minus_clock_h - 12) * kRadPerHour, ws);
      if (part.from_rad >= part.to_rad) continue;
      if (day.last_light < 0) day.first_light = h;
      day.last_light = h;
      HourGeometry& hour = day.hours[static_cast<std::size_t>(h)];
      hour.lit_share = (part.to_rad - part.from_rad) / kRadPerHour;
      hour.global_ratio =
          global_shape_integral(part.to_rad, ws) - global_shape_integral(part.from_rad, ws);
      hour.diffuse_ratio =
          diffuse_shape_integral(part.to_rad, ws) - diffuse_shape_integral(part.from_rad, ws);
      add_samples(part, sun, shade, path.samples);
    }
    make_ratios_sum_to_one(day);
  }
  path.first_sample.push_back(path.samples.size());
  return path;
}

std::vector<DayGeometry> geometry_on(const SunPath& path, const PanelPlane& plane) {
  const double tilt_rad = plane.tilt_deg * kRadPerDeg;
  const Direction normal = plane_normal(tilt_rad, plane.azimuth_deg * kRadPerDeg);
  const double open_sky = (1 + std::cos(tilt_rad)) / 2;
  const std::array<double, 12> sky = sky_views(plane, normal, open_sky);
  std::vector<DayGeometry> days = path.days;
  for (std::size_t d = 0; d < days.size(); ++d) {
    DayGeometry& day = days[d];
    day.open_sky_view = open_sky;
    day.sky_view = sky[static_cast<std::size_t>(month_of_day(static_cast<int>(d) + 1))];
    day.ground_view = plane.albedo * (1 - std::cos(tilt_rad)) / 2;
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      fill_beam(path, d * kHoursPerDay + h, normal, day.hours[h]);
    }
  }
  return days;
}

std::vector<DayGeometry> year_geometry(const Place& place, const PanelPlane& plane) {
  return geometry_on(sun_path(place, plane.shade), plane);
}

HorizontalHour horizontal_hour(const DayGeometry& day, double horizontal_kwh_m2,
                               double diffuse_share, std::size_t hour) {
  const HourGeometry& geometry = day.hours[hour];
  const double global = 1000 * horizontal_kwh_m2 * geometry.global_ratio;
  // Near sunrise the diffuse shape can pass the global one: then all of the hour is diffuse.
  const double diffuse =
      std::min(1000 * horizontal_kwh_m2 * diffuse_share * geometry.diffuse_ratio, global);
  return {.beam = global - diffuse, .diffuse = diffuse};
}

PlaneHour plane_hour(const DayGeometry& day, std::size_t hour, const HorizontalHour& horizontal,
                     Sky sky) {
  const HourGeometry& geometry = day.hours[hour];
  // The beam's share of what is above the air: the part of the diffuse light that comes from around
  // the sun. The Liu & Jordan shape is that of the extraterrestrial hour.
  const double top = 1000 * day.extraterrestrial_kwh_m2 * geometry.diffuse_ratio;
  const double anisotropy =
      sky == Sky::circumsolar && top > 0 ? std::min(1.0, horizontal.beam / top) : 0;
  const double around = horizontal.diffuse * anisotropy;
  const double sky_light = horizontal.diffuse - around;
  const double ground = (horizontal.beam + horizontal.diffuse) * day.ground_view;
  return {.shaded = horizontal.beam * geometry.beam_ratio +
                    around * std::min(geometry.beam_ratio, kLargestBeamRatio) +
                    sky_light * day.sky_view + ground,
          .open = horizontal.beam * geometry.open_beam_ratio +
                  around * std::min(geometry.open_beam_ratio, kLargestBeamRatio) +
                  sky_light * day.open_sky_view + ground};
}

double plane_day(const DayGeometry& day, double horizontal_kwh_m2, double diffuse_share, Sky sky,
                 std::span<double, kHoursPerDay> plane_w_m2) {
  std::fill(plane_w_m2.begin(), plane_w_m2.end(), 0.0);
  double open_wh_m2 = 0;
  for (int h = day.first_light; h <= day.last_light; ++h) {
    const auto hour = static_cast<std::size_t>(h);
    const PlaneHour plane =
        plane_hour(day, hour, horizontal_hour(day, horizontal_kwh_m2, diffuse_share, hour), sky);
    plane_w_m2[hour] = plane.shaded;
    open_wh_m2 += plane.open;
  }
  return open_wh_m2 / 1000;
}

}  // namespace amptally
