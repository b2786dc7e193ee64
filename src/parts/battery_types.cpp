#include <algorithm>
#include <cassert>

#include "amptally/battery.hpp"

namespace amptally {

// battery_types() itself is generated from data/batteries.json.
const BatteryType& battery_type(BatteryKind kind) {
  const auto types = battery_types();
  const auto found = std::ranges::find(types, kind, &BatteryType::kind);
  assert(found != types.end());
  return *found;
}

double usual_floor_share(BatteryKind kind) { return battery_type(kind).floor_share; }

}  // namespace amptally
