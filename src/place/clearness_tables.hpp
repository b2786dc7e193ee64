#pragma once

#include <array>
#include <span>

#include "place/clearness.hpp"

namespace amptally::tables {

/// One matrix of data/daily_clearness.csv.
struct ClearnessMatrix {
  double above;    ///< monthly clearness the matrix is for, from
  double to;       ///< ... and to
  double lowest;   ///< clearness at the lower end of class 1
  double highest;  ///< clearness at the upper end of class 10
  std::array<std::array<double, kClearnessClasses>, kClearnessClasses> chance;  ///< rows sum to 1
};

/// The ten matrices, dullest month first.
[[nodiscard]] std::span<const ClearnessMatrix> clearness_matrices();

}  // namespace amptally::tables
