#pragma once

#include <array>
#include <span>
#include <vector>

#include "amptally/site.hpp"

/// Where the sun stands and what of it falls on a tilted panel.
///
/// Days run 1..365; 1 is 1 January and 59 is 28 February. Clock hours are local standard time; hour
/// h covers h:00 to h+1:00. Azimuths are degrees from north, clockwise. Angles w are hour angles,
/// rad, 0 at solar noon, negative in the morning.
namespace amptally::inline v0_1 {

/// Solar constant, W/m2. Source: Kopp & Lean 2011, Geophys. Res. Lett. 38, L01706 (1360.8 +- 0.5).
inline constexpr double kSolarConstant_w_m2 = 1361;

/// Month, 0..11, of a day of the year, 1..365.
[[nodiscard]] int month_of_day(int day);

/// Days in a month, 0..11, of a year of 365 days.
[[nodiscard]] int days_in_month(int month);

/// First day of the year, 1..335, of a month, 0..11.
[[nodiscard]] int first_day_of_month(int month);

/// Mean over the days of the year of twelve monthly means, January first.
[[nodiscard]] double year_mean(const Monthly& months);

/// Declination of the sun at noon, rad, in the mean of the years 2021 to 2040.
/// Source: Astronomical Almanac, low-precision formulas (from memory). In a single one of those
/// years 29 February shifts the days: up to 0.18 deg.
[[nodiscard]] double declination_rad(int day);

/// Mean over actual sun distance, squared: the eccentricity correction. Source: as above.
[[nodiscard]] double eccentricity_factor(int day);

/// Solar time minus mean time, min. Source: as above; in a single year within 0.2 min.
[[nodiscard]] double equation_of_time_min(int day);

/// Hour angle of sunset, rad, 0 (polar night) .. pi (polar day), flat horizon, no refraction.
/// Source: FAO-56 (Allen et al. 1998) eq. 25.
[[nodiscard]] double sunset_hour_angle_rad(double latitude_rad, double declination_rad);

/// Time from sunrise to sunset, h, 0..24. Source: FAO-56 eq. 34.
[[nodiscard]] double day_length_h(double latitude_deg, int day);

/// Irradiation of a horizontal plane above the air, kWh/m2/day, for any sun. Source: FAO-56 eq. 21.
/// @param eccentricity         mean over actual sun distance, squared
/// @param solar_constant_w_m2  W/m2; older tables used 1367
[[nodiscard]] double extraterrestrial_kwh_m2_day(double latitude_rad, double declination_rad,
                                                 double eccentricity, double solar_constant_w_m2);

/// The same on a day of the year.
[[nodiscard]] double extraterrestrial_kwh_m2_day(double latitude_deg, int day,
                                                 double solar_constant_w_m2 = kSolarConstant_w_m2);

/// Mean of `extraterrestrial_kwh_m2_day` over the days of a month, 0..11.
[[nodiscard]] double extraterrestrial_month_kwh_m2_day(double latitude_deg, int month);

/// Share of one day's horizontal irradiation that is diffuse, 0..1.
/// Source: Erbs, Klein & Duffie 1982, daily form.
[[nodiscard]] double daily_diffuse_share(double clearness, double sunset_rad);

struct SunPosition {
  double elevation_deg;  ///< centre of the sun above the horizon, no refraction
  double azimuth_deg;    ///< 0..360, clockwise from north
};

/// Where the sun stands at a clock time.
/// @param clock_h  local standard time, h, 0..24
[[nodiscard]] SunPosition sun_position(double latitude_deg, double longitude_deg,
                                       double utc_offset_h, int day, double clock_h);

/// Cosine of the angle between the sun and a plane's normal; negative behind the plane.
/// Source: Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.2.
[[nodiscard]] double cos_incidence(double latitude_rad, double declination_rad,
                                   double hour_angle_rad, double tilt_rad,
                                   double azimuth_from_north_rad);

/// A panel's plane and what stands around it.
struct PanelPlane {
  double tilt_deg;     ///< 0..90
  double azimuth_deg;  ///< from north, clockwise
  double albedo = 0.2;
  std::span<const Obstacle> shade = {};
};

/// What one clock hour of one day of the year lets through, whatever the weather.
struct HourGeometry {
  double lit_share = 0;        ///< of the hour, sun above the horizon
  double day_beam_ratio = 0;   ///< of the day's horizontal beam irradiation; sums to 1 a day
  double diffuse_ratio = 0;    ///< of the day's horizontal diffuse irradiation; sums to 1 a day
  double beam_ratio = 0;       ///< beam on the plane over beam on the horizontal, after shade
  double open_beam_ratio = 0;  ///< the same without shade
};

/// Geometry of one day of the year over a plane.
struct DayGeometry {
  double extraterrestrial_kwh_m2 = 0;
  double sunset_rad = 0;
  double day_length_h = 0;
  double sky_view = 1;       ///< share of the diffuse sky the plane sees, after shade
  double open_sky_view = 1;  ///< the same without shade
  double ground_view = 0;    ///< albedo times the share of the ground the plane sees
  int first_light = 0;       ///< hours before this one are dark
  int last_light = -1;       ///< hours after this one are dark
  std::array<HourGeometry, kHoursPerDay> hours{};
};

/// Geometry of the whole year: 365 days over one plane. Depends on the place and the plane only,
/// so it is worked out once and shared by all weather.
///
/// Day to hours: diffuse light by Liu & Jordan 1960, Solar Energy 4(3), 1-19; beam as the
/// extraterrestrial one times what clear air lets through, Hottel 1976, Solar Energy 18(2),
/// 129-134. Both are integrated over each clock hour and made to sum to 1.
/// Beam on the plane: the ratio of the hour's integrals, the beam thinned by the air as above,
/// sampled every 5 min between sunrise and sunset, so that low sun does not blow up.
[[nodiscard]] std::vector<DayGeometry> year_geometry(const Place& place, const PanelPlane& plane);

/// What falls on the horizontal in one clock hour, Wh/m2.
struct HorizontalHour {
  double beam_wh_m2 = 0;
  double diffuse_wh_m2 = 0;
};

/// Sun on the plane in one clock hour, Wh/m2, after shade and without.
struct PlaneHour {
  double shaded_wh_m2 = 0;
  double open_wh_m2 = 0;
};

/// One hour turned into the plane: part of the diffuse light comes from around the sun, by the
/// beam's share of what is above the air; the rest evenly from the sky.
/// Source: Hay & Davies 1980, First Canadian Solar Radiation Data Workshop, 59.
/// @param day   the hour's day
/// @param hour  0..23
[[nodiscard]] PlaneHour plane_hour(const DayGeometry& day, std::size_t hour,
                                   const HorizontalHour& horizontal);

/// A day's horizontal irradiation spread over its hours, Wh/m2.
///
/// @param horizontal_kwh_m2  the day's horizontal global irradiation
/// @param diffuse_share      0..1, share of it that is diffuse
/// @param hour               0..23
[[nodiscard]] HorizontalHour horizontal_hour(const DayGeometry& day, double horizontal_kwh_m2,
                                             double diffuse_share, std::size_t hour);

/// Sun on the plane in each clock hour of a day, W/m2 (mean over the hour).
///
/// @param plane_w_m2  out, 24 values: after shade
/// @return the day's in-plane irradiation without shade, kWh/m2
double plane_day(const DayGeometry& day, double horizontal_kwh_m2, double diffuse_share,
                 std::span<double, kHoursPerDay> plane_w_m2);

/// Share of one hour's horizontal irradiation that is diffuse, 0..1.
/// Source: Erbs, Klein & Duffie 1982, hourly form (coefficients from memory).
/// @param clearness  the hour's global over extraterrestrial horizontal irradiance; >= 0
[[nodiscard]] double hourly_diffuse_share(double clearness);

}  // namespace amptally::inline v0_1
