#include <algorithm>
#include <cassert>

#include "amptally/battery.hpp"

#include "core/battery_tables.hpp"

namespace amptally {

std::span<const BatteryType> battery_types() { return tables::kBatteryTypes; }

const BatteryType& battery_type(BatteryKind kind) {
  const auto found = std::ranges::find(tables::kBatteryTypes, kind, &BatteryType::kind);
  assert(found != tables::kBatteryTypes.end());  // the embedding tool checks that all are there
  return *found;
}

}  // namespace amptally
