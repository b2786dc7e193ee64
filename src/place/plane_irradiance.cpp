#include "place/plane_irradiance.hpp"

#include <algorithm>

namespace amptally::inline v0_1 {
namespace {

// Common practice, no source: light from around the sun is not multiplied beyond a sun 5 deg high.
constexpr double kLargestBeamRatio = 11.47;

// An hour's light on the horizontal by where it comes from, Wh/m2.
struct LightParts {
  double beam = 0;
  double around = 0;  // diffuse, from around the sun
  double sky = 0;     // diffuse, evenly from the whole sky
};

LightParts light_parts(const DayGeometry& day, std::size_t hour, const HorizontalHour& horizontal) {
  // The beam's share of what is above the air: the part of the diffuse light that comes from around
  // the sun. The Liu & Jordan shape is that of the extraterrestrial hour.
  const double top = 1000 * day.extraterrestrial_kwh_m2 * day.hours[hour].diffuse_ratio;
  const double anisotropy = top > 0 ? std::min(1.0, horizontal.beam_wh_m2 / top) : 0;
  const double around = horizontal.diffuse_wh_m2 * anisotropy;
  return {
      .beam = horizontal.beam_wh_m2, .around = around, .sky = horizontal.diffuse_wh_m2 - around};
}

// The plane's light is in proportion to each part's, so that it can be had from the means of parts.
PlaneHour turned(const DayGeometry& day, std::size_t hour, const LightParts& parts) {
  const HourGeometry& geometry = day.hours[hour];
  const double ground = (parts.beam + parts.around + parts.sky) * day.ground_view;
  return {.shaded_wh_m2 = parts.beam * geometry.beam_ratio +
                          parts.around * std::min(geometry.beam_ratio, kLargestBeamRatio) +
                          parts.sky * day.sky_view + ground,
          .open_wh_m2 = parts.beam * geometry.open_beam_ratio +
                        parts.around * std::min(geometry.open_beam_ratio, kLargestBeamRatio) +
                        parts.sky * day.open_sky_view + ground};
}

}  // namespace

HorizontalHour horizontal_hour(const DayGeometry& day, double horizontal_kwh_m2,
                               double diffuse_share, std::size_t hour) {
  const HourGeometry& geometry = day.hours[hour];
  const double day_wh_m2 = 1000 * horizontal_kwh_m2;
  return {.beam_wh_m2 = day_wh_m2 * (1 - diffuse_share) * geometry.day_beam_ratio,
          .diffuse_wh_m2 = day_wh_m2 * diffuse_share * geometry.diffuse_ratio};
}

PlaneHour plane_hour(const DayGeometry& day, std::size_t hour, const HorizontalHour& horizontal) {
  return turned(day, hour, light_parts(day, hour, horizontal));
}

double plane_days(const DayGeometry& day, std::span<const HorizontalDay> kinds,
                  std::span<double, kHoursPerDay> plane_w_m2) {
  std::fill(plane_w_m2.begin(), plane_w_m2.end(), 0.0);
  const double each = 1.0 / static_cast<double>(kinds.size());
  double open_wh_m2 = 0;
  for (int h = day.first_light; h <= day.last_light; ++h) {
    const auto hour = static_cast<std::size_t>(h);
    LightParts sum;
    for (const HorizontalDay& kind : kinds) {
      const LightParts parts =
          light_parts(day, hour, horizontal_hour(day, kind.kwh_m2, kind.diffuse_share, hour));
      sum.beam += parts.beam;
      sum.around += parts.around;
      sum.sky += parts.sky;
    }
    const PlaneHour plane = turned(day, hour, {sum.beam * each, sum.around * each, sum.sky * each});
    plane_w_m2[hour] = plane.shaded_wh_m2;
    open_wh_m2 += plane.open_wh_m2;
  }
  return open_wh_m2 / 1000;
}

double plane_day(const DayGeometry& day, double horizontal_kwh_m2, double diffuse_share,
                 std::span<double, kHoursPerDay> plane_w_m2) {
  const HorizontalDay only = {horizontal_kwh_m2, diffuse_share};
  return plane_days(day, {&only, 1}, plane_w_m2);
}

}  // namespace amptally::inline v0_1
