#pragma once

#include <array>
#include <span>
#include <vector>

#include "amptally/sun.hpp"

#include "place/direction.hpp"
#include "place/shade.hpp"

namespace amptally::inline v0_1 {

/// Unit vector towards the sun.
[[nodiscard]] Direction sun_direction(const Turn& latitude, const Turn& declination,
                                      const Turn& hour_angle);

/// Unit normal of a plane.
[[nodiscard]] Direction plane_normal(double tilt_rad, double azimuth_from_north_rad);

/// One look at the sun within a clock hour.
struct SunSample {
  Direction beam;       ///< towards the sun, as long as the share of it that clear air lets through
  double passes_share;  ///< of the beam, by the obstacles; 1 is open sky
};

/// The sun's way over one place on one day: everything that does not depend on the plane, so that
/// tilts can be compared without following the sun again.
struct DayPath {
  std::size_t month = 0;           ///< 0..11
  DayGeometry geometry;            ///< with the plane's figures still at their defaults
  std::vector<SunSample> samples;  ///< while the sun is up, evenly spaced within each hour
  std::array<std::size_t, kHoursPerDay + 1> first_sample{};  ///< where each hour's samples begin

  [[nodiscard]] std::span<const SunSample> samples_of(std::size_t hour) const {
    return std::span(samples).subspan(first_sample[hour],
                                      first_sample[hour + 1] - first_sample[hour]);
  }
};

/// The sun's year over one place, a day at a time: a year of samples would not fit the caches.
class SunPath {
 public:
  SunPath(const Place& place, std::span<const Obstacle> shade);

  /// @param day  1..365
  [[nodiscard]] DayPath day(int day) const;

 private:
  double latitude_rad_;
  Turn latitude_;
  double mean_solar_minus_clock_h_;  // without the equation of time
  MonthScreens screens_;
  std::array<Turn, kHoursPerDay + 1> hour_turns_{};  // from midnight to the hours' beginnings
};

/// A plane as the sun's days see it.
class PlaneView {
 public:
  explicit PlaneView(const PanelPlane& plane);

  /// The day's geometry with the plane's figures filled in.
  [[nodiscard]] DayGeometry of(const DayPath& path) const;

 private:
  Direction normal_;
  double open_sky_;
  std::array<double, 12> sky_;  // past each month's obstacles
  double ground_;
};

}  // namespace amptally::inline v0_1
