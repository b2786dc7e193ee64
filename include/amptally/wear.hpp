#pragma once

#include <span>
#include <vector>

#include "amptally/battery.hpp"
#include "amptally/site.hpp"

/// How long a battery lasts: by the depth of its cycles and by age. Indicative only.
namespace amptally::inline v0_1 {

/// One counted cycle.
struct Cycle {
  double range;  ///< highest minus lowest
  double mean;   ///< half way between
  double count;  ///< 1, or 0.5 for a half cycle
};

/// Rainflow count of a series.
/// @param series  any values; only their turning points matter
/// Source: ASTM E1049-85, section 5.4.4.
[[nodiscard]] std::vector<Cycle> rainflow(std::span<const double> series);

/// Cycles of one depth until 80 % of the capacity is left.
///
/// The battery's own curve or its type's, straight between its points on logarithmic axes and
/// carried on beyond them; infinite at depth 0. A single point is carried on with one over the
/// depth.
/// @param depth_share  0..1
[[nodiscard]] double cycles_at_depth(const Battery& battery, double depth_share);

/// Share of its life that a battery uses up on a series of states of charge, 0 and up: Miner's sum
/// of count over `cycles_at_depth`, each cycle's range taken as its depth. Source: Miner 1945,
/// Journal of Applied Mechanics 12, A159-A164.
/// @param cycles        of the state of charge, 0..1
/// @param depth_factor  every depth is multiplied by this first; 0.5 is a battery twice as large
[[nodiscard]] double wear(const Battery& battery, std::span<const Cycle> cycles,
                          double depth_factor = 1);

/// Years a battery lasts on the shelf at monthly temperatures: its shelf life at 25 deg C, used up
/// twice as fast for every 10 K above; below 25 deg C no slower. Source: the usual halving rule, as
/// in IEEE Std 1188 for sealed batteries (from memory).
[[nodiscard]] double shelf_life_years(const Battery& battery, const Monthly& temp_c);

/// How long from now, and why no longer; 0 for a battery at the end of its life already, which goes
/// on working for a time that nobody can tell.
struct Life {
  double years = 0;
  bool worn_by_depth = false;  ///< else by age
  double by_depth_years = 0;   ///< infinite when not cycled
  double by_age_years = 0;
  double half_depth_years = 0;  ///< `years` if every cycle were half as deep
};

/// The life of a new battery, less what an old one has behind it: its `health_share` is taken to
/// fall in a straight line to 80 %, the end of its life.
/// @param wear_a_year            as `wear`, mean over the years
/// @param half_depth_wear_a_year the same with a depth factor of 0.5
[[nodiscard]] Life battery_life(const Battery& battery, const Monthly& temp_c, double wear_a_year,
                                double half_depth_wear_a_year);

}  // namespace amptally::inline v0_1
