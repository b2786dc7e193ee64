#pragma once

#include <span>

#include "amptally/sun.hpp"

namespace amptally::inline v0_1 {

/// One day's horizontal irradiation.
struct HorizontalDay {
  double kwh_m2;
  double diffuse_share;  ///< 0..1
};

/// As `plane_day`, the mean over several kinds of day, each as likely as the others.
double plane_days(const DayGeometry& day, std::span<const HorizontalDay> kinds,
                  std::span<double, kHoursPerDay> plane_w_m2);

}  // namespace amptally::inline v0_1
