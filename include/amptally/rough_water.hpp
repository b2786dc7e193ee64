#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/rough.hpp"

/// What a site's rough numbers leave open of its water.
namespace amptally::inline v0_1 {

/// A line over the cases; what none of them has is unset.
struct RoughLine {
  std::string name;
  std::optional<Spread> flow_l_h = {};
  std::optional<Spread> longest_minutes_day = {};  ///< in the month in which it runs longest
  std::optional<Spread> siphon_night_l = {};       ///< 0 in cases in which it does not run on
};

/// The tank over the cases; likewise.
struct RoughTank {
  std::optional<Spread> days_to_empty = {};
  std::optional<Spread> dry_days = {};  ///< where rain or refill comes in
};

/// A site's water over all its rough numbers.
struct RoughWater {
  int cases = 0;
  int failed_cases = 0;            ///< of them, those in which a line brings nothing at all
  double climate_error_share = 0;  ///< rms error of the shipped sun that counted; 0: left out
  double holds_share = 0;          ///< of the cases, in which water is enough
  std::vector<RoughLine> lines = {};
  std::optional<RoughTank> tank = {};
};

/// The water of a site at the combinations of `study_rough`. The shipped sun's error counts where a
/// crop's demand follows from the sun. Cases in which `study_water` cannot find a flow are counted,
/// and are in no spread.
[[nodiscard]] RoughWater study_rough_water(const Site& site, const RoughOptions& options = {});

}  // namespace amptally::inline v0_1
