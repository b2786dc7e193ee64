#pragma once

#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/rough.hpp"

/// What a site's rough numbers leave open of its cables.
namespace amptally::inline v0_1 {

/// A cable over the cases.
struct RoughCable {
  std::string name;
  Spread current_a{};
  Spread drop_share{};
  Spread loss_wh_day{};
  double holds_share = 0;  ///< of the cases, in which it keeps to its drop and has a fuse
};

/// A site's cables over all its rough numbers.
struct RoughWiring {
  int cases = 0;
  int failed_cases = 0;    ///< of them, those in which a water line cannot run its load
  double holds_share = 0;  ///< of the cases, in which all cables do
  std::vector<RoughCable> cables = {};
};

/// The cables of a site at the combinations of `study_rough`. The shipped sun's error is left out:
/// no drop or fuse depends on it.
[[nodiscard]] RoughWiring study_rough_wiring(const Site& site, const RoughOptions& options = {});

}  // namespace amptally::inline v0_1
