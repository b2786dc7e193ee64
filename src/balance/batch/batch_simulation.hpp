#pragma once

#include <span>
#include <vector>

#include "balance/batch/block.hpp"
#include "balance/batch/design.hpp"

namespace amptally::inline v0_1 {

/// How designs fare over all years of their skies, one each, on one thread.
///
/// As `simulate` has it: mean weather and files repeat until each design ends as it began, block
/// after block. Synthetic weather runs one year in, then its years one after the other; a year is
/// made once, if at all, and all blocks go through it before the next.
/// @param designs  at least one
/// @param shared  whether all have one `years` and one `loads`, which is faster
/// @param only_whether  stop where none of a block can meet its aim any more; `year` says nothing
///   then
/// @throws DataError from `series_sun_year`
[[nodiscard]] std::vector<JudgedYear> simulate_batch(const DayKernel& kernel,
                                                     std::span<const Design* const> designs,
                                                     WeatherMode weather, bool shared,
                                                     bool only_whether);

}  // namespace amptally::inline v0_1
