#include "report/field_name.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/labels.hpp"

namespace amptally::report {
namespace {

using Entry = std::pair<std::string_view, std::string_view>;

// {0} is whose it is, {1} the second index of the path, counted from 1.
constexpr auto kNames = std::to_array<Entry>({
    {"place.insolation", "the sun"},
    {"place.insolation[]", "sun in {0}"},
    {"place.insolation.values[]", "sun in {0}"},
    {"place.temperature[]", "air temperature in {0}"},
    {"place.rain[]", "rain in {0}"},
    {"place.elevation", "height above the sea"},
    {"place.albedo", "light from the ground"},
    {"place.record_low", "coldest air on record"},
    {"panel.power", "panel power"},
    {"panel.vmp", "panel voltage at full power"},
    {"panel.imp", "panel current at full power"},
    {"panel.voc", "open-circuit voltage of the panel"},
    {"panel.isc", "short-circuit current of the panel"},
    {"panel.temp_coeff_power", "loss of panel power by warmth"},
    {"panel.temp_coeff_voc", "loss of panel voltage by warmth"},
    {"panel.noct", "warmth of the panel's cells"},
    {"panel.tilt", "panel tilt"},
    {"panel.azimuth", "direction of the panel"},
    {"panel.losses", "panel losses"},
    {"panel.shade", "shade"},
    {"panel.shade[].elevation", "height of shade {0}"},
    {"panel.shade[].blocks", "light stopped by shade {0}"},
    {"regulator.kind", "kind of regulator"},
    {"regulator.standby", "regulator standby"},
    {"regulator.efficiency", "regulator efficiency"},
    {"regulator.max_current", "current limit of the regulator"},
    {"regulator.max_panel_voltage", "panel voltage limit of the regulator"},
    {"regulator.cutoff", "cutoff of the loads"},
    {"regulator.reconnect", "reconnection of the loads"},
    {"regulator.absorption", "voltage at the end of charging"},
    {"battery.capacity", "battery capacity"},
    {"battery.rated_hours", "hours the battery's capacity is rated for"},
    {"battery.max_charge_current", "charge current limit of the battery"},
    {"battery.peukert", "Peukert exponent of the battery"},
    {"battery.self_discharge", "self-discharge of the battery"},
    {"battery.shelf_life", "shelf life of the battery"},
    {"battery.floor", "floor of the battery"},
    {"battery.health", "battery health"},
    {"battery.start", "charge at the start"},
    {"battery.price", "battery price"},
    {"loads[].draw", "draw of {0}"},
    {"loads[].per_day", "time a day of {0}"},
    {"loads[].runs", "running time of {0}"},
    {"loads[].runs[].for", "length of run {1} of {0}"},
    {"loads[].start_factor", "starting current of {0}"},
    {"loads[].idle", "draw of {0} when off"},
    {"wiring[].length", "length of cable {0}"},
    {"wiring[].section", "section of cable {0}"},
    {"wiring[].max_drop", "voltage drop allowed on cable {0}"},
    {"water.tank.volume", "tank volume"},
    {"water.tank.level", "water level of the full tank"},
    {"water.tank.outlet_height", "height of the tank's outlet"},
    {"water.tank.roof", "roof area"},
    {"water.tank.runoff", "rain reaching the tank"},
    {"water.tank.refill[]", "refill in {0}"},
    {"water.lines[].pump.flow", "pump flow of {0}"},
    {"water.lines[].pump.head", "pump head of {0}"},
    {"water.lines[].lift", "lift of {0}"},
    {"water.lines[].tube.length", "tube length of {0}"},
    {"water.lines[].tube.bore", "tube bore of {0}"},
    {"water.lines[].outlets.flow", "outlet flow of {0}"},
    {"water.lines[].outlets.at", "head the outlet flow of {0} is for"},
    {"water.lines[].outlets.exponent", "outlet exponent of {0}"},
    {"water.lines[].outlets.height", "outlet height of {0}"},
    {"water.lines[].demand", "water demand of {0}"},
    {"water.lines[].demand.each", "water for each plant of {0}"},
    {"water.lines[].demand.area", "area watered by {0}"},
    {"loads[]", "{0}"},
    {"water.lines[]", "{0}"},
});

/// `loads[0].draw` taken apart: `loads[].draw` and 0.
struct Path {
  std::string pattern;
  std::vector<std::size_t> indices;
};

Path parsed(std::string_view path) {
  Path result;
  while (!path.empty()) {
    const std::size_t bracket = std::min(path.find('['), path.size());
    result.pattern += path.substr(0, bracket);
    path.remove_prefix(bracket);
    if (path.empty()) break;
    std::size_t index = 0;
    const auto [rest, fault] = std::from_chars(path.data() + 1, path.data() + path.size(), index);
    if (fault != std::errc()) return {};
    path.remove_prefix(static_cast<std::size_t>(rest - path.data()) + 1);
    result.pattern += "[]";
    result.indices.push_back(index);
  }
  return result;
}

/// Whose field it is: a load's, a cable's, a line's name, a month's; shades are counted.
std::string owner(const Site& site, const Path& path) {
  if (path.indices.empty()) return "";
  const std::size_t index = path.indices.front();
  const auto name_in = [index](const auto& list) {
    return index < list.size() ? list[index].name : std::string();
  };
  if (path.pattern.starts_with("loads")) return name_in(site.loads);
  if (path.pattern.starts_with("wiring")) return name_in(site.wiring);
  if (path.pattern.starts_with("water.lines") && site.water) return name_in(site.water->lines);
  if (path.pattern.starts_with("panel.shade")) return fmt::format("{}", index + 1);
  return index < 12 ? std::string(month_name(static_cast<int>(index))) : std::string();
}

}  // namespace

std::string field_name(const Site& site, const std::string& path) {
  const Path parts = parsed(path);
  const auto* const entry = std::find_if(kNames.begin(), kNames.end(), [&](const Entry& known) {
    return known.first == parts.pattern;
  });
  const std::string whose = owner(site, parts);
  if (entry == kNames.end() || (whose.empty() && !parts.indices.empty())) return path;
  const std::size_t second = parts.indices.size() > 1 ? parts.indices[1] + 1 : 0;
  return fmt::format(fmt::runtime(entry->second), whose, second);
}

}  // namespace amptally::report
