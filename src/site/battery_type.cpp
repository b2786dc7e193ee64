#include "amptally/battery_type.hpp"

#include <algorithm>
#include <cassert>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "site/battery_words.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {

// battery_types() itself is generated from data/batteries.json.

const BatteryType& battery_type(BatteryKind kind) {
  const auto place = static_cast<std::size_t>(kind);
  assert(place < battery_types().size());
  return battery_types()[place];
}

BatteryKind battery_kind(std::string_view name) {
  const auto types = battery_types();
  const auto found = std::ranges::find(types, name, &BatteryType::name);
  if (found != types.end()) return found->kind;
  const std::vector<std::string_view> names = battery_names();
  const std::string_view likely = near_miss(name, names);
  throw InputError("battery.kind",
                   fmt::format("{} is not {}{}", in_quotes(name), any_of(names),
                               likely.empty() ? "" : fmt::format(" (did you mean {}?)", likely)));
}

}  // namespace amptally::inline v0_1
