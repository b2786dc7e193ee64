#pragma once

#include <array>

#include "amptally/battery.hpp"

namespace amptally::tables {

/// The rows of data/batteries.json, in the order of the file.
extern const std::array<BatteryType, 4> kBatteryTypes;

}  // namespace amptally::tables
