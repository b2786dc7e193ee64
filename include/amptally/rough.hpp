#pragma once

#include <string>
#include <vector>

#include "amptally/balance.hpp"

/// What a site's rough numbers leave open.
namespace amptally::inline v0_1 {

/// How a study of rough numbers goes about it.
struct RoughOptions {
  int cases = 128;     ///< chosen: enough for a tenth and a ranking, and quick
  int most_years = 8;  ///< of synthetic weather a case; chosen: the cases tell more than the years
  bool exact_climate = false;  ///< leaves the shipped sun's own error out
};

/// How much one rough number matters.
struct RoughShare {
  std::string field;  ///< as in `RoughInput`; `place.insolation` for the shipped sun as a whole
  double share_of_spread;  ///< of the difference between the cases, 0..1
};

/// A site's year over all its rough numbers.
struct RoughStudy {
  int cases = 0;
  WeatherMode weather = WeatherMode::mean;
  int years = 1;                   ///< a case
  double climate_error_share = 0;  ///< rms error of the shipped sun that counted; 0: left out
  double meets_aim_share = 0;      ///< of the cases
  YearSpread spread{};             ///< of the cases
  std::vector<RoughShare> measure_first = {};  ///< largest share first; shares add up to at most 1
};

/// The rms error of the shipped sun that counts in a weather, share of a month's figure; 0 where
/// the sun is the grower's own or of a weather file, or is taken for exact.
[[nodiscard]] double counted_climate_error(const Site& site, const WeatherChoice& weather,
                                           bool exact_climate);

/// Runs a site with its rough numbers at many combinations, evenly spread between their ends.
///
/// The combinations are the additive recurrence of the generalised golden ratio: Roberts 2018, "The
/// unreasonable effectiveness of quasirandom sequences" (from memory). Where the site's sun is
/// shipped, one common factor on all its months spreads evenly over 1 +- sqrt(3) times its rms
/// error, which so is its own; a month never gets more than reaches the top of the air.
///
/// A number's share is the squared rank correlation (Spearman 1904) of its value with how badly the
/// cases fare: by energy not served, then by the deepest discharge, then by autonomy. A number
/// whose two ends, all else in the middle, give the same year has none.
///
/// @param site  with ranges; without any (and its climate exact) every case is the same
/// @throws as `simulate`, where an end of a range cannot be run
[[nodiscard]] RoughStudy study_rough(const Site& site, const WeatherChoice& weather,
                                     const RoughOptions& options = {});

}  // namespace amptally::inline v0_1
