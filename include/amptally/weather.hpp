#pragma once

#include <vector>

#include "amptally/site.hpp"
#include "amptally/sun.hpp"

namespace amptally {

/// One day's weather.
struct WeatherDay {
  double sun_horizontal_kwh_m2;
  double diffuse_share;  ///< 0..1
  double air_temp_c;     ///< mean of the day
  double air_swing_c;    ///< warmest minus coldest hour, K
};

/// The mean year: 365 days whose sun and temperature vary smoothly and keep each month's mean.
///
/// Clearness runs in straight lines between the middles of the months, from knots chosen so that
/// each month's irradiation is met exactly; where that would leave the physical range (near polar
/// night) the month keeps one clearness. Diffuse share by the monthly Erbs form. Swing of the air
/// temperature from the Hargreaves relation, (K / 0.16)^2, FAO-56 eq. 50 turned round.
/// @throws InputError if a month's insolation is above what reaches the top of the air
[[nodiscard]] std::vector<WeatherDay> mean_year(const Place& place);

/// A year over one panel plane, hour by hour: everything the balance needs that no part's size
/// changes. 8,760 hours from 1 January 0:00 local standard time.
struct SunYear {
  std::vector<DayGeometry> geometry;      ///< 365
  std::vector<WeatherDay> days;           ///< 365
  std::vector<double> plane_w_m2;         ///< 8,760, after shade
  std::vector<double> air_temp_c;         ///< 8,760
  std::vector<double> plane_kwh_m2;       ///< 365, after shade
  std::vector<double> open_plane_kwh_m2;  ///< 365, without shade
};

/// The mean year of a site over its panel's plane.
/// @throws InputError as `mean_year`
[[nodiscard]] SunYear mean_sun_year(const Place& place, const PanelPlane& plane);

/// The plane a site's panel lies in, with its shade. The site must outlive the result.
[[nodiscard]] PanelPlane panel_plane(const Site& site);

/// One month of a `SunYear`, for tables.
struct SunMonth {
  double sun_horizontal_kwh_m2_day;
  double sun_panel_kwh_m2_day;
  double clearness;     ///< horizontal over extraterrestrial, 0..1; 0 in polar night
  double day_length_h;  ///< mean over the month's days
  double shade_share;   ///< share of the panel's sun that shade takes, 0..1
};

/// Twelve months, January first.
[[nodiscard]] std::array<SunMonth, 12> sun_months(const SunYear& year);

/// In-plane irradiation at one tilt, for choosing a fixed tilt.
struct TiltFigure {
  double tilt_deg;
  double year_kwh_m2;             ///< sum over the year
  double worst_month_kwh_m2_day;  ///< the poorest month's daily mean
  int worst_month;                ///< 0..11
};

struct TiltStudy {
  std::vector<TiltFigure> tilts;  ///< every 10 degrees from 0 to 90
  TiltFigure best_year;           ///< whole-degree tilt with the most sun over the year
  TiltFigure best_worst_month;    ///< whole-degree tilt with the most sun in the poorest month
};

/// Fixed tilts compared at the panel's azimuth and shade, in the mean year.
[[nodiscard]] TiltStudy compare_tilts(const Place& place, const PanelPlane& plane);

}  // namespace amptally
