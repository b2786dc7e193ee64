#pragma once

#include <array>

#include "amptally/site.hpp"

#include "place/day_scores.hpp"

/// How far the air of single days lies from the mean year's.
namespace amptally::inline v0_1 {

/// Air of one month's days.
struct AirMonth {
  double deviation_k = 0;     ///< standard, of a day's mean temperature
  double with_clearness = 0;  ///< correlation of that with the day's clearness, -1..1

  /// How much warmer a day is than the mean year's, K, by the scores of its clearness and its air.
  [[nodiscard]] double warmer_k(double clearness_score, double air_score) const;
};

/// One month's air.
///
/// The deviation is 3.0 K (1.3 within 15 degrees of the equator, whole from 30 degrees on) and
/// 0.28 K more for each K that the month is colder than 5 deg C. The dull days of cold months are
/// the milder ones: the correlation is -0.4 at 0 deg C and colder, none from 12 deg C on. Fitted by
/// eye to eight stations with 11 to 40 measured years between 34 S and 52 N (docs/weather.md has
/// both). Method: Richardson 1981, Water Resources Research 17, 182-190 (from memory): temperature
/// as a chain of its own, tied to the sun's.
[[nodiscard]] AirMonth air_month(double air_temp_c, double latitude_deg);

/// The twelve months of a place.
[[nodiscard]] std::array<AirMonth, 12> air_months(const Place& place);

/// Warmest less coldest hour of a day over the mean year's, by its clearness over the mean year's.
/// 0.55 of the swing goes with clearness: median of the slopes of the four seasons in five years by
/// the hour between 7 N and 56 N (typical years of TMY3 and SWERA, and Lyngby 2017).
[[nodiscard]] double swing_ratio(double clearness_ratio);

}  // namespace amptally::inline v0_1
