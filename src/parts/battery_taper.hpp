#pragma once

#include "amptally/battery.hpp"

#include "parts/charge_taper.hpp"

namespace amptally::inline v0_1 {

/// The constants by which `stored_of` lets a bank's charging fall off.
[[nodiscard]] TaperOf<double> charge_taper(const Battery& battery);

}  // namespace amptally::inline v0_1
