#pragma once

#include "place/air.hpp"
#include "place/clearness.hpp"

namespace amptally::inline v0_1 {

/// What the days of one month are like.
struct SkyMonth {
  ClearnessMonth clearness;
  AirMonth air;
};

}  // namespace amptally::inline v0_1
