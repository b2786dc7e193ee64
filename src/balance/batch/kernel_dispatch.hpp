#pragma once

#include <span>

#include "balance/batch/block.hpp"

namespace amptally::inline v0_1 {

/// The kernels that this processor runs, narrowest first; never empty.
[[nodiscard]] std::span<const DayKernel* const> kernels();

/// The widest of them.
[[nodiscard]] const DayKernel& widest_kernel();

}  // namespace amptally::inline v0_1
