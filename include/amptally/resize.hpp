#pragma once

#include "amptally/site.hpp"

/// A site with a part of another size, and all that follows from it.
namespace amptally::inline v0_1 {

/// The site with panels of another rated power: the same label, its currents in proportion.
/// @param power_w  of each panel, W; >= 0
[[nodiscard]] Site with_panel_power(Site site, double power_w);

/// The site with a battery of another printed capacity; a charge-current limit of its own grows
/// with it.
/// @param capacity_ah  each, Ah; > 0
[[nodiscard]] Site with_battery_capacity(Site site, double capacity_ah);

}  // namespace amptally::inline v0_1
