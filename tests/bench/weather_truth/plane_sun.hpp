#pragma once

#include <functional>
#include <string>
#include <vector>

#include "station.hpp"

/// The sun in the plane, month by month, against years by the hour.
namespace weather_truth {

/// Poorer months are left out of the monthly errors: an hour of haze is a tenth of them.
inline constexpr double kPoorMonth_kwh_m2_day = 0.6;

/// How far synthetic years lie from the file's in one plane, per cent.
struct SunErrors {
  StationPlane plane{};
  amptally::Monthly pct{};
  double rms_pct = 0;
  double worst_pct = 0;  ///< with its sign
  double year_pct = 0;
};

[[nodiscard]] SunErrors sun_errors(const StationPlane& plane, const SunYears& years);

/// One month in one of many planes, all round and up to the upright.
struct PlaneMonth {
  const Station* station;
  int from_equator_deg;  ///< azimuth: 0 faces the equator, 180 away from it
  int tilt_deg;
  int month;              ///< 0..11
  double from_means_pct;  ///< the mean year of twelve means, less the hours
  double from_days_pct;   ///< the file's own days spread over their hours, less the hours

  /// Where even the right sun on the level is turned into the plane with errors of some 10 %:
  /// panels of 60 degrees and more in winter (November to February in the north) above 35 degrees
  /// of latitude, and all beyond 56.
  [[nodiscard]] bool is_low_sun() const;
};

/// All months that are not too poor, in planes of eight azimuths and six tilts.
[[nodiscard]] std::vector<PlaneMonth> plane_months(const Station& station);

/// Some of those months together.
struct PlaneErrors {
  int months = 0;
  double rms_pct = 0;
  double mean_pct = 0;
  double worst_pct = 0;  ///< with its sign
  double within_10 = 0;  ///< share of the months
};

[[nodiscard]] PlaneErrors errors_of(const std::vector<PlaneMonth>& months,
                                    double PlaneMonth::*error,
                                    const std::function<bool(const PlaneMonth&)>& counts);

}  // namespace weather_truth
