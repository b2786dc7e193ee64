#pragma once

#include <span>
#include <vector>

#include "amptally/study.hpp"

namespace amptally::inline v0_1 {

/// A study's runs for variants that were made from a checked site. They need not be checked again,
/// and may be what no one would write: a load of which there are none, a label whose rough figures
/// contradict each other.
struct UncheckedStudy {
  [[nodiscard]] static std::vector<JudgedYear> run(const Study& study,
                                                   std::span<const Site> variants);
  [[nodiscard]] static std::vector<bool> meets(const Study& study, std::span<const Site> variants);
};

}  // namespace amptally::inline v0_1
