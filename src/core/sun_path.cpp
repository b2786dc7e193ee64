#include "sun_path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "shade.hpp"

namespace amptally {
namespace {

using std::numbers::pi;

constexpr double kRadPerDeg = pi / 180;
constexpr double kRadPerHour = pi / 12;

// Chosen: 5 min between looks at the sun. Halving it moves no month of the examples by 0.1 %.
constexpr int kSamplesPerHour = 12;

// Common practice, no source: light from around the sun is not multiplied beyond a sun 5 deg high.
constexpr double kLargestBeamRatio = 11.47;

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

// The turns from midnight to the beginnings of the hours, and on to the next midnight.
std::array<Turn, kHoursPerDay + 1> hour_turns() {
  std::array<Turn, kHoursPerDay + 1> turns{};
  for (std::size_t h = 0; h < turns.size(); ++h) {
    turns[h] = turn(static_cast<double>(h) * kRadPerHour);
  }
  return turns;
}

// The part of a clock hour in which the sun is up; empty (from >= to) when dark.
// The clock may be half a day off the sun, so the hour is looked for one turn either way too.
Interval sun_up_part(const Interval& hour, const HourAngle& sunset) {
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

// The shapes of a day's global and diffuse irradiation, a and b after Collares-Pereira & Rabl.
class DayShape {
 public:
  explicit DayShape(const HourAngle& sunset)
      : a_(0.409 + 0.5016 * std::sin(sunset.rad - pi / 3)),
        b_(0.6609 - 0.4767 * std::sin(sunset.rad - pi / 3)),
        cos_sunset_(sunset.turn.cos) {}

  // Integral of (a + b cos w)(cos w - cos ws), up to w.
  [[nodiscard]] double global(const HourAngle& w) const {
    return a_ * w.turn.sin + b_ * (w.rad + w.turn.sin * w.turn.cos) / 2 -
           cos_sunset_ * (a_ * w.rad + b_ * w.turn.sin);
  }

  // Integral of the Liu & Jordan shape, cos w - cos ws, up to w.
  [[nodiscard]] double diffuse(const HourAngle& w) const {
    return w.turn.sin - w.rad * cos_sunset_;
  }

 private:
  double a_;
  double b_;
  double cos_sunset_;
};

// Looks at the sun evenly spaced over part of an hour, each in the middle of its piece.
void add_samples(const Interval& part, Turn latitude, Turn declination,
                 std::span<const Screen> screens, std::vector<SunSample>& samples) {
  const double length = part.length_rad();
  const int n = std::max(1, static_cast<int>(std::ceil(kSamplesPerHour * length / kRadPerHour)));
  const Turn half = turn(length / n / 2);
  const Turn step = half + half;
  Turn w = part.from.turn + half;
  for (int i = 0; i < n; ++i, w = w + step) {
    SunSample& sample = samples.emplace_back();
    sample.sun = sun_direction(latitude, declination, w);
    sample.passes_share = passes_share(screens, sample.sun);
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

// An hour's light on the horizontal by where it comes from, Wh/m2.
struct LightParts {
  double beam = 0;
  double around = 0;  // diffuse, from around the sun
  double sky = 0;     // diffuse, evenly from the whole sky
};

LightParts light_parts(const DayGeometry& day, std::size_t hour, const HorizontalHour& horizontal,
                       Sky sky) {
  // The beam's share of what is above the air: the part of the diffuse light that comes from around
  // the sun. The Liu & Jordan shape is that of the extraterrestrial hour.
  const double top = 1000 * day.extraterrestrial_kwh_m2 * day.hours[hour].diffuse_ratio;
  const double anisotropy =
      sky == Sky::circumsolar && top > 0 ? std::min(1.0, horizontal.beam / top) : 0;
  const double around = horizontal.diffuse * anisotropy;
  return {.beam = horizontal.beam, .around = around, .sky = horizontal.diffuse - around};
}

// The plane's light is in proportion to each part's, so that it can be had from the means of parts.
PlaneHour turned(const DayGeometry& day, std::size_t hour, const LightParts& parts) {
  const HourGeometry& geometry = day.hours[hour];
  const double ground = (parts.beam + parts.around + parts.sky) * day.ground_view;
  return {.shaded = parts.beam * geometry.beam_ratio +
                    parts.around * std::min(geometry.beam_ratio, kLargestBeamRatio) +
                    parts.sky * day.sky_view + ground,
          .open = parts.beam * geometry.open_beam_ratio +
                  parts.around * std::min(geometry.open_beam_ratio, kLargestBeamRatio) +
                  parts.sky * day.open_sky_view + ground};
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

SunPath sun_path(const Place& place, std::span<const Obstacle> shade) {
  SunPath path;
  path.days.resize(kDaysPerYear);
  path.first_sample.reserve(kHoursPerYear + 1);
  path.samples.reserve(static_cast<std::size_t>(kHoursPerYear) / 2 * (kSamplesPerHour + 1));
  const MonthScreens screens = screens_by_month(shade);
  const std::array<Turn, kHoursPerDay + 1> hour_turn = hour_turns();
  const double latitude_rad = place.latitude_deg * kRadPerDeg;
  const Turn latitude = turn(latitude_rad);
  for (int d = 1; d <= kDaysPerYear; ++d) {
    const double delta = declination_rad(d);
    const Turn declination = turn(delta);
    DayGeometry& day = path.days[static_cast<std::size_t>(d - 1)];
    const double ws = sunset_hour_angle_rad(latitude_rad, delta);
    const HourAngle sunset = {ws, turn(ws)};
    const DayShape shape(sunset);
    const double solar_minus_clock_h =
        place.longitude_deg / 15 - place.utc_offset_h + equation_of_time_min(d) / 60;
    const Turn midnight = turn((solar_minus_clock_h - 12) * kRadPerHour);
    day.extraterrestrial_kwh_m2 = extraterrestrial_kwh_m2_day(
        latitude_rad, delta, eccentricity_factor(d), kSolarConstant_w_m2);
    day.sunset_rad = ws;
    day.day_length_h = 24 / pi * ws;
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      path.first_sample.push_back(path.samples.size());
      const double from_rad = (static_cast<double>(h) + solar_minus_clock_h - 12) * kRadPerHour;
      const Interval part = sun_up_part({{from_rad, midnight + hour_turn[h]},
                                         {from_rad + kRadPerHour, midnight + hour_turn[h + 1]}},
                                        sunset);
      if (part.from.rad >= part.to.rad) continue;
      if (day.last_light < 0) day.first_light = static_cast<int>(h);
      day.last_light = static_cast<int>(h);
      HourGeometry& hour = day.hours[h];
      hour.lit_share = part.length_rad() / kRadPerHour;
      hour.global_ratio = shape.global(part.to) - shape.global(part.from);
      hour.diffuse_ratio = shape.diffuse(part.to) - shape.diffuse(part.from);
      add_samples(part, latitude, declination, screens[static_cast<std::size_t>(month_of_day(d))],
                  path.samples);
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
  const std::array<double, 12> sky = sky_views(plane.shade, normal, open_sky);
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
  return turned(day, hour, light_parts(day, hour, horizontal, sky));
}

double plane_days(const DayGeometry& day, std::span<const HorizontalDay> kinds, Sky sky,
                  std::span<double, kHoursPerDay> plane_w_m2) {
  std::fill(plane_w_m2.begin(), plane_w_m2.end(), 0.0);
  const double each = 1.0 / static_cast<double>(kinds.size());
  double open_wh_m2 = 0;
  for (int h = day.first_light; h <= day.last_light; ++h) {
    const auto hour = static_cast<std::size_t>(h);
    LightParts sum;
    for (const HorizontalDay& kind : kinds) {
      const LightParts parts =
          light_parts(day, hour, horizontal_hour(day, kind.kwh_m2, kind.diffuse_share, hour), sky);
      sum.beam += parts.beam;
      sum.around += parts.around;
      sum.sky += parts.sky;
    }
    const PlaneHour plane = turned(day, hour, {sum.beam * each, sum.around * each, sum.sky * each});
    plane_w_m2[hour] = plane.shaded;
    open_wh_m2 += plane.open;
  }
  return open_wh_m2 / 1000;
}

double plane_day(const DayGeometry& day, double horizontal_kwh_m2, double diffuse_share, Sky sky,
                 std::span<double, kHoursPerDay> plane_w_m2) {
  const HorizontalDay only = {horizontal_kwh_m2, diffuse_share};
  return plane_days(day, {&only, 1}, sky, plane_w_m2);
}

}  // namespace amptally
