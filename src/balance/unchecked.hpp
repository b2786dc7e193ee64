#pragma once

#include "amptally/load_profile.hpp"

namespace amptally::inline v0_1 {

/// `load_profile` for a site that was checked, or made from one that was.
[[nodiscard]] LoadProfile unchecked_load_profile(const Site& site,
                                                 const std::vector<DayGeometry>& geometry);

}  // namespace amptally::inline v0_1
