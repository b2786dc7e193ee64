#pragma once

#include "amptally/balance.hpp"

#include "report/wiring.hpp"

namespace amptally::cli {

/// The cables of a site, and what was taken for granted on the way.
[[nodiscard]] report::Wiring wiring_of(const Site& site, const Simulation& prepared);

}  // namespace amptally::cli
