#pragma once

#include <span>
#include <vector>

#include "amptally/sun.hpp"

#include "direction.hpp"

namespace amptally {

/// Unit vector towards the sun.
[[nodiscard]] Direction sun_direction(const Turn& latitude, const Turn& declination,
                                      const Turn& hour_angle);

/// Unit normal of a plane.
[[nodiscard]] Direction plane_normal(double tilt_rad, double azimuth_from_north_rad);

/// One look at the sun within a clock hour.
struct SunSample {
  Direction sun;
  double passes_share;  ///< of the beam, by the obstacles; 1 is open sky
};

/// The sun's year over one place: everything that does not depend on the plane, so that tilts can
/// be compared without following the sun again.
struct SunPath {
  std::vector<DayGeometry> days;          ///< 365, with the plane's figures still at their defaults
  std::vector<SunSample> samples;         ///< while the sun is up, evenly spaced within each hour
  std::vector<std::size_t> first_sample;  ///< 8,761: where each hour's samples begin
};

[[nodiscard]] SunPath sun_path(const Place& place, std::span<const Obstacle> shade);

/// The path's days with the plane's figures filled in.
[[nodiscard]] std::vector<DayGeometry> geometry_on(const SunPath& path, const PanelPlane& plane);

/// One day's horizontal irradiation.
struct HorizontalDay {
  double kwh_m2;
  double diffuse_share;  ///< 0..1
};

/// As `plane_day`, the mean over several kinds of day, each as likely as the others.
double plane_days(const DayGeometry& day, std::span<const HorizontalDay> kinds, Sky sky,
                  std::span<double, kHoursPerDay> plane_w_m2);

}  // namespace amptally
