#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "amptally/site.hpp"

/// How clear days follow one another: the spells of dull days that a monthly mean hides.
namespace amptally::inline v0_1 {

inline constexpr std::size_t kClearnessClasses = 10;

/// Daily clearness within one month of a place, as a chain of ten classes.
///
/// The state is a rank, 0..1: its tenth is the class. Source: Aguiar, Collares-Pereira & Conde
/// 1988, Solar Energy 40(3), 269-279, ten matrices by monthly clearness (data/daily_clearness.csv).
/// Ours: matrices are blended in proportion between the middles of their ranges; the second, which
/// the paper has from few data and shows next to no persistence, is the mean of the first three;
/// the clearness of a rank is lowest + (highest - lowest) rank^exponent, the highest bounded by the
/// clear sky, the exponent chosen so that the long-run mean is the month's to rounding.
struct ClearnessMonth {
  double mean = 0;     ///< the month's long-run clearness
  double lowest = 0;   ///< clearness at rank 0
  double highest = 0;  ///< clearness at rank 1
  double exponent = 1;
  std::array<double, kClearnessClasses> share{};  ///< of days in each class in the long run
  std::array<std::array<double, kClearnessClasses>, kClearnessClasses> up_to{};
  ///< up_to[i][j]: chance that class i is followed by class j or lower

  /// Clearness of a day of this rank.
  [[nodiscard]] double at(double rank) const;

  /// Rank of the day after a day of `rank`, drawn by `random`, 0..1.
  [[nodiscard]] double next(double rank, double random) const;

  /// Rank below which `share_below`, 0..1, of all days lie in the long run.
  [[nodiscard]] double rank_of(double share_below) const;
};

/// The chain of one month.
///
/// @param mean          monthly clearness, 0..1
/// @param clear_sky     clearness of a cloudless day there and then, 0..1
/// @param latitude_deg  in the tropics days are more alike: within 15 degrees of the equator the
///   deviations from the mean are 0.7 of the matrices', full from 30 degrees on. Chosen, after
///   Saunier, Reddy & Kumar 1987 (Solar Energy 38, 169-177; from memory), who find daily clearness
///   in the tropics more narrowly spread than in temperate places of the same mean.
[[nodiscard]] ClearnessMonth clearness_month(double mean, double clear_sky, double latitude_deg);

/// Clearness of a cloudless day: global irradiance 1098 cos z exp(-0.057 / cos z), W/m2, over the
/// extraterrestrial one; 0 in polar night. Source: Haurwitz 1945, Journal of Meteorology 2,
/// 154-166.
[[nodiscard]] double clear_sky_clearness(double latitude_deg, int day);

/// Evenly spread number, 0..1, that depends on its three keys only: any day of any year can be
/// drawn by any thread in any order. SplitMix64's finaliser (Steele, Lea & Flood 2014), once a key.
[[nodiscard]] double keyed_random(std::uint64_t seed, std::uint64_t year, std::uint64_t day);

/// The twelve chains of a place, from its monthly insolation.
[[nodiscard]] std::array<ClearnessMonth, 12> clearness_months(const Place& place);

/// Rank of each of the 365 days of one synthetic year, 0..1.
///
/// Years come in tens that share a day's draw: shifted by a fifth of its range from one pair of
/// years to the next (a rotated lattice, Cranley & Patterson 1976, SIAM J. Numer. Anal. 13,
/// 904-914), and mirrored in the second of each pair. So the ten draws of each day are evenly
/// spread and means over a few years lie close to the long run's, while each year on its own is as
/// random as any. The chain runs in over the last 20 days of December.
/// @param year  0, 1, 2 ...
[[nodiscard]] std::vector<double> synthetic_ranks(const std::array<ClearnessMonth, 12>& months,
                                                  std::uint64_t seed, int year);

}  // namespace amptally::inline v0_1
