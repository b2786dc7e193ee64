#pragma once

#include <algorithm>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "amptally/findings.hpp"

/// What the files of findings share.
namespace amptally::inline v0_1 {

inline constexpr const char* kPractice = "common practice, no source";
inline constexpr const char* kDefer = "Local codes and a licensed electrician have the last word.";

/// One finding, or nothing where all is well.
using FindingRule = std::optional<Finding> (*)(const Site&, const Simulation&);

/// What the rules find, dangers first, else in the order of the rules.
[[nodiscard]] inline std::vector<Finding> found_by(std::span<const FindingRule> rules,
                                                   const Site& site, const Simulation& simulation) {
  std::vector<Finding> found;
  for (const FindingRule rule : rules) {
    if (std::optional<Finding> finding = rule(site, simulation)) {
      found.push_back(std::move(*finding));
    }
  }
  std::ranges::stable_sort(found, {}, &Finding::level);
  return found;
}

}  // namespace amptally::inline v0_1
