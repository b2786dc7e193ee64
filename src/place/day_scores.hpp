#pragma once

#include <cstdint>
#include <vector>

#include "amptally/site.hpp"

/// How clear and dull, warm and cold days follow one another, as standard normal scores: what they
/// are worth at a place is for clearness.hpp and air.hpp to say.
namespace amptally::inline v0_1 {

/// The 365 days of one synthetic year. Each figure is standard normal in the long run.
struct DayScores {
  std::vector<double> clearness;
  std::vector<double> air;  ///< what of the air's warmth clearness does not tell
};

/// One synthetic year.
///
/// A day's clearness is the sum of a part that follows the day before (by `day_to_day`) and one
/// that its whole month has in common, 0.05 of the variance, which follows the month before (0.78).
/// So spells last, and months and years are bright or dull as a whole, while no day's long-run mean
/// moves. Sources: Graham, Hollands & Unny 1988, Solar Energy 40(2), 83-92 (a Gaussian chain
/// through each month's own distribution); Katz & Parlange 1998, Journal of Climate 11, 591-601,
/// and Wilks & Wilby 1999, Progress in Physical Geography 23, 329-357 (a low-frequency part,
/// without which generated months differ too little; all from memory). The figures are the medians
/// of eight stations with 11 to 40 measured years: correlation with the day before 0.35, of two
/// days further on 0.16, between a month's mean and the next month's 0.36, and a month's mean of
/// scores has 0.11 of a day's variance.
///
/// Years come in tens that share a draw: shifted by a fifth of its range from one pair of years to
/// the next (a rotated lattice, Cranley & Patterson 1976, SIAM J. Numer. Anal. 13, 904-914), and
/// mirrored in the second of each pair. So the ten draws of each day are evenly spread and means
/// over a few years lie close to the long run's, while each year on its own is as random as any.
/// @param year        0, 1, 2 ...
/// @param day_to_day  of each month, 0..1: correlation of the first part with the day before
[[nodiscard]] DayScores day_scores(std::uint64_t seed, int year, const Monthly& day_to_day);

/// The number that `share`, 0..1, of a standard normal distribution lies below, within 1e-6.
/// Source: Wichura 1988, Applied Statistics 37(3), 477-484, algorithm AS 241, PPND7.
[[nodiscard]] double normal_quantile(double share);

}  // namespace amptally::inline v0_1
