#pragma once

#include <array>

#include "amptally/site.hpp"

/// How clear the days of a month are, and how much they differ.
namespace amptally::inline v0_1 {

/// Daily clearness within one month of a place, as a function of a standard normal score: a bounded
/// curve that two figures shape, the mean and the spread.
/// Source: Johnson 1949, Biometrika 36, 149-176, the bounded system (from memory).
struct ClearnessMonth {
  double mean = 0;          ///< the month's long-run clearness
  double spread_share = 0;  ///< standard deviation of daily clearness over its mean
  double day_to_day = 0;    ///< see `day_to_day(mean)`
  double lowest = 0;        ///< no day is darker
  double highest = 0;       ///< no day is clearer
  double middle = 0;        ///< where on its curve the day of score 0 lies
  double slope = 0;         ///< how far along it a score of 1 leads

  /// Clearness of a day with this score.
  [[nodiscard]] double at(double score) const;
};

/// The share of a month's possible spread that its days take, 0..1. Days differ most if each is
/// either wholly dark or wholly clear; see `clearness_month`.
///
/// 0.48 where it is cool; 0.010 less for each K above 12 deg C, as the clouds of warm air come and
/// go within the day; 0.10 less within 15 degrees of the equator, whole from 30 degrees on. Fitted
/// to 204 monthly figures of 17 stations between 34 S and 55 N (docs/model.md says how well).
[[nodiscard]] double variable_share(double air_temp_c, double latitude_deg);

/// Correlation of a day's score with that of the day before, what their whole month has in common
/// aside: 0.31 at a mean clearness of 0.50, and 0.005 more for each 0.01 that it is clearer; within
/// 0.20..0.42. Clear weather lasts. Fitted to the same figures of the 17 stations.
[[nodiscard]] double day_to_day(double mean);

/// The days of one month.
///
/// Daily clearness lies between 0.03 and 0.80: at eight stations with 11 to 40 measured years the
/// darkest and the clearest day in two hundred lie at 0.03 to 0.4 and at 0.66 to 0.83. Of a mean at
/// or beyond those ends (polar twilight), all days are alike.
/// @param mean            monthly clearness, 0..1
/// @param variable_share  0..`kMostVariable`: standard deviation over the largest possible,
///   sqrt((mean - lowest)(highest - mean))
[[nodiscard]] ClearnessMonth clearness_month(double mean, double variable_share);

/// Standard deviation of daily clearness over its mean, of `clearness_month(mean, share)`, 0..1.
[[nodiscard]] double day_spread_share(double mean, double variable_share);

/// Chosen: beyond, next to all days are either dark or clear, which no place on record has.
inline constexpr double kMostVariable = 0.80;

/// The twelve months of a place, from its insolation, temperature and latitude.
///
/// A spread of the place's own changes all months by one factor, up to the most that each can have.
/// @throws InputError if `place.day_spread_share` is more than all months at their most have
[[nodiscard]] std::array<ClearnessMonth, 12> clearness_months(const Place& place);

}  // namespace amptally::inline v0_1
