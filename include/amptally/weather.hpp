#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "amptally/site.hpp"
#include "amptally/sun.hpp"

/// Years of sun and air over a panel's plane: the mean year, synthetic years, years read from a
/// file.
namespace amptally::inline v0_1 {

/// One day's weather.
struct WeatherDay {
  double sun_horizontal_kwh_m2;
  double air_temp_c;   ///< mean of the day
  double air_swing_c;  ///< warmest minus coldest hour, K
};

/// A year over one panel plane, hour by hour: everything the balance needs that no part's size
/// changes. 8,760 hours from 1 January 0:00 local standard time.
struct SunYear {
  std::vector<WeatherDay> days;           ///< 365
  std::vector<double> plane_w_m2;         ///< 8,760, after shade
  std::vector<double> air_temp_c;         ///< 8,760
  std::vector<double> plane_kwh_m2;       ///< 365, after shade
  std::vector<double> open_plane_kwh_m2;  ///< 365, without shade
};

struct SkyMonth;

/// What all years over one place and plane share; `site_sky` makes it.
struct SiteSky {
  std::vector<DayGeometry> geometry;  ///< 365
  std::vector<WeatherDay> mean_days;  ///< 365, see mean_days()
  /// What the days of each month are like; the library's own.
  std::shared_ptr<const std::array<SkyMonth, 12>> months;
  double solar_minus_clock_h = 0;  ///< by longitude and UTC offset only
};

/// Warmest less coldest hour of a day, K, by its clearness: (K / 0.16)^2, at most 20.
/// Source: FAO-56 (Allen et al. 1998) eq. 50 (Hargreaves, inland) turned round.
[[nodiscard]] double air_swing_c(double clearness);

/// The days of the mean year: sun and temperature vary smoothly and keep each month's mean.
///
/// Clearness runs in straight lines between the middles of the months, from knots chosen so that
/// each month's irradiation is met exactly; where that would leave the physical range (near polar
/// night) the month keeps one clearness. The air's swing is `air_swing_c` of the day's clearness.
/// @throws InputError if a month's insolation is above what reaches the top of the air
[[nodiscard]] std::vector<WeatherDay> mean_days(const Place& place);

/// Days of each month on which the air goes below 0 deg C, in the mean of many years, January
/// first: by the coldest hour of the mean year's days and how far single days stand off it
/// (docs/model.md, "Air of single days"), taken as normal.
/// @throws InputError as `mean_days`
[[nodiscard]] Monthly frost_days(const Place& place);

/// The sky over a place, in a plane.
/// @throws InputError as `mean_days`
[[nodiscard]] SiteSky site_sky(const Place& place, const PanelPlane& plane);

/// The mean year: each day its month's mean, in the plane the expectation over the days a month is
/// made of, each turned by Hay & Davies with the daily Erbs share. The plane of
/// a mean day is not the mean of the days' planes: light is bent on clear days only.
[[nodiscard]] SunYear mean_sun_year(const SiteSky& sky);

/// One synthetic year: the mean year's days, each with a clearness of its own, turned by Hay &
/// Davies with the daily Erbs share, and with air of its own: warmer or colder than the mean
/// year's, and with more swing on a clear day. Same seed and year, same bytes.
[[nodiscard]] SunYear synthetic_sun_year(const SiteSky& sky, std::uint64_t seed, int year);

/// Years read from a file, 1 January to 31 December, without 29 February.
struct WeatherSeries {
  std::string name;           ///< for the output: the file's own title, or its path
  std::string path;           ///< for messages
  bool has_position = false;  ///< whether the next three are known
  double latitude_deg = 0;
  double longitude_deg = 0;
  double utc_offset_h = 0;
  bool hourly = true;  ///< else daily
  int years = 1;
  std::vector<double> global_wh_m2;   ///< one a step: horizontal global irradiation
  std::vector<double> direct_wh_m2;   ///< empty, or one a step: direct normal irradiation
  std::vector<double> diffuse_wh_m2;  ///< empty, or one a step: horizontal diffuse irradiation
  std::vector<double> air_temp_c;     ///< empty, or one a step
  std::vector<int> lines;             ///< of the file, one a step, for messages

  [[nodiscard]] std::size_t steps_a_year() const {
    return static_cast<std::size_t>(hourly ? kHoursPerYear : kDaysPerYear);
  }
};

/// The place as a series has it: its position where it knows it, its monthly sun, and its monthly
/// temperatures where it has them.
[[nodiscard]] Place place_of(const WeatherSeries& series, Place place);

/// One year of a series. Direct and diffuse light are used where the file has them; else the hour
/// is split by `hourly_diffuse_share`, a day by `daily_diffuse_share`.
/// @param sky   of `place_of(series, ...)`
/// @param year  0 .. series.years - 1
/// @throws DataError naming the line, for a value above 1.25 times the extraterrestrial
[[nodiscard]] SunYear series_sun_year(const SiteSky& sky, const WeatherSeries& series, int year);

/// The plane a site's panel lies in, with its shade. The site must outlive the result.
[[nodiscard]] PanelPlane panel_plane(const Site& site);

/// How far a month's sun in a plane may be off by the light's course over the day alone, where that
/// is about 10 %; nothing where it is less. A year by the hour has that course.
[[nodiscard]] std::optional<Assumption> plane_error(const Place& place, const PanelPlane& plane);

/// One month of a `SunYear`, for tables.
struct SunMonth {
  double sun_horizontal_kwh_m2_day;
  double sun_panel_kwh_m2_day;
  double clearness;     ///< horizontal over extraterrestrial, 0..1; 0 in polar night
  double day_length_h;  ///< mean over the month's days
  double shade_share;   ///< share of the panel's sun that shade takes, 0..1
  /// Standard deviation of daily clearness over its mean; 0 in polar night
  double day_spread_share;
};

/// Twelve months of the mean year or a synthetic one, January first; the spread of their days is
/// the sky's, that of the long run.
[[nodiscard]] std::array<SunMonth, 12> sun_months(const SiteSky& sky, const SunYear& year);

/// The mean of all years of a series, month by month, and how much their days differ.
/// @param sky  of `place_of(series, ...)`
/// @throws DataError as `series_sun_year`
[[nodiscard]] std::array<SunMonth, 12> series_months(const SiteSky& sky,
                                                     const WeatherSeries& series);

/// How much the sun of single days differs, of all months together: the root of the mean of the
/// months' squared spreads, what `Place::day_spread_share` is.
[[nodiscard]] double day_spread_share(const std::array<SunMonth, 12>& months);

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

}  // namespace amptally::inline v0_1
