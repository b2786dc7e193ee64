#pragma once

#include <span>
#include <string>

#include "amptally/balance.hpp"

#include "report/output_style.hpp"

namespace amptally::report {

/// The lowest charge left over the year as a strip of bars, for a terminal that can show block
/// characters: four rows, up to 73 columns of about five days each, the floor named beside its row
/// and the months below. A column is as high as its lowest day, rounded down, so that a day below
/// the floor never seems to reach it. Colour repeats which columns are below.
///
/// @param days          365
/// @param floor_charge  the charge that should stay, 0..1
[[nodiscard]] std::string charge_strip(std::span<const DayBalance> days, double floor_charge,
                                       const OutputStyle& style);

}  // namespace amptally::report
