#pragma once

#include <vector>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// A site at combinations of its rough numbers, evenly spread between their ends, as in
/// `study_rough`.
struct RoughCases {
  std::vector<Site> sites;
  double climate_error_share;  ///< rms error of the shipped sun that counted; 0: left out
};

/// @param cases         how many; at least 1
/// @param exact_climate leaves the shipped sun's own error out
[[nodiscard]] RoughCases rough_cases(const Site& site, int cases, bool exact_climate);

}  // namespace amptally::inline v0_1
