#pragma once

#include <span>
#include <string_view>

#include "amptally/quantity.hpp"
#include "amptally/site.hpp"

/// The values that each number of a site may have.
namespace amptally {

/// A number of a site and its limits, in the base unit of a dimension.
struct SiteLimits {
  std::string_view field;  ///< `loads[].draw`: [] stands for any element
  Dimension dimension;
  double low;
  double high;
  bool above_low = false;  ///< `low` itself is not allowed
  double beyond = 0;       ///< what a study may come to, where that is more than a file may give

  [[nodiscard]] constexpr double top() const { return beyond > high ? beyond : high; }
  [[nodiscard]] constexpr bool allow(double value) const {  // not a number is never allowed
    return (above_low ? value > low : value >= low) && value <= top();
  }
};

namespace limits {

using Dim = Dimension;
inline constexpr bool kAbove = true;
// Chosen: more than any study comes to, and the model still gives finite figures.
inline constexpr double kAnySize = 1e12;
inline constexpr double kAnyCount = 1e6;

// Limits are wide: they stop slips of unit and sign, not unusual sites. They are those of the site
// file's fields, which a test compares; see sitefile/field_table.cpp.
inline constexpr SiteLimits kAll[] = {
    {"place.latitude", Dim::angle, -90, 90},
    {"place.longitude", Dim::angle, -180, 180},
    {"place.insolation", Dim::daily_irradiation, 0, 13, !kAbove, 24},
    // Colder and warmer than a file may give: what a weather file has is taken as it is.
    {"place.temperature", Dim::temperature, -90, 60},
    {"place.rain", Dim::rain, 0, 3000},
    {"place.elevation", Dim::length, -450, 9000},
    {"place.utc_offset", Dim::hours, -12, 14},
    {"place.albedo", Dim::share, 0, 1},
    {"place.record_low", Dim::temperature, -90, 40},

    {"panel.power", Dim::power, 0, 100000, !kAbove, kAnySize},
    {"panel.count", Dim::number, 1, 10000, !kAbove, kAnyCount},
    {"panel.series", Dim::number, 1, 10000},
    {"panel.vmp", Dim::voltage, 0, 1500, kAbove},
    {"panel.imp", Dim::current, 0, 1000, kAbove, kAnySize},
    {"panel.voc", Dim::voltage, 0, 1500, kAbove},
    {"panel.isc", Dim::current, 0, 1000, kAbove, kAnySize},
    {"panel.temp_coeff_power", Dim::share_per_kelvin, -2, 0},
    {"panel.temp_coeff_voc", Dim::share_per_kelvin, -2, 0},
    {"panel.noct", Dim::temperature, 20, 80},
    {"panel.tilt", Dim::angle, 0, 90},
    {"panel.azimuth", Dim::angle, 0, 360},
    {"panel.losses", Dim::share, 0, 1},
    {"panel.shade[].azimuth", Dim::angle, 0, 360},
    {"panel.shade[].elevation", Dim::angle, 0, 90},
    {"panel.shade[].blocks", Dim::share, 0, 1},

    {"regulator.standby", Dim::current, 0, 1000},
    {"regulator.standby", Dim::power, 0, 48000},
    {"regulator.efficiency", Dim::share, 0, 1, kAbove},
    {"regulator.max_current", Dim::current, 0, 1000, kAbove},
    {"regulator.max_panel_voltage", Dim::voltage, 0, 1500, kAbove},
    {"regulator.cutoff", Dim::voltage, 0, 1500, kAbove},
    {"regulator.cutoff", Dim::share, 0, 1},
    {"regulator.reconnect", Dim::voltage, 0, 1500, kAbove},
    {"regulator.reconnect", Dim::share, 0, 1},
    {"regulator.absorption", Dim::voltage, 0, 1500, kAbove},

    {"battery.voltage", Dim::voltage, 2, 1500},
    {"battery.capacity", Dim::charge, 0, 100000, kAbove, kAnySize},
    {"battery.rated_hours", Dim::hours, 0, 1000, kAbove},
    {"battery.parallel", Dim::number, 1, 10000, !kAbove, kAnyCount},
    {"battery.series", Dim::number, 1, 10000},
    {"battery.floor", Dim::share, 0, 1, kAbove},
    {"battery.health", Dim::share, 0, 1, kAbove},
    {"battery.start", Dim::share, 0, 1},
    {"battery.max_charge_current", Dim::current, 0, 1000, kAbove, kAnySize},
    {"battery.peukert", Dim::number, 1, 2},
    {"battery.self_discharge", Dim::share_per_month, 0, 100},
    {"battery.cycles[][0]", Dim::share, 0, 1, kAbove},
    {"battery.cycles[][1]", Dim::number, 0, 1e7, kAbove},
    {"battery.shelf_life", Dim::years, 0, 100, kAbove},
    {"battery.price", Dim::number, 0, 1e9},

    {"loads[].draw", Dim::current, 0, 1000},
    {"loads[].draw", Dim::power, 0, 48000},
    {"loads[].count", Dim::number, 1, 10000},
    {"loads[].per_day", Dim::minutes, 0, kMinutesPerDay},
    {"loads[].runs[].at", Dim::minutes, 0, kMinutesPerDay},
    {"loads[].runs[].for", Dim::minutes, 0, kMinutesPerDay},
    {"loads[].every", Dim::days, 1, 365},
    {"loads[].start_factor", Dim::number, 1, 20},
    {"loads[].idle", Dim::current, 0, 1000},
    {"loads[].idle", Dim::power, 0, 48000},

    {"wiring[].length", Dim::length, 0, 10000, kAbove},
    {"wiring[].section", Dim::section, 0, 1000, kAbove},
    {"wiring[].max_drop", Dim::share, 0, 1, kAbove},

    {"water.tank.volume", Dim::volume, 0, 1e6, kAbove},
    {"water.tank.level", Dim::length, 0, 100},
    {"water.tank.outlet_height", Dim::length, 0, 100},
    {"water.tank.roof", Dim::area, 0, 10000},
    {"water.tank.runoff", Dim::share, 0, 1},
    {"water.tank.refill", Dim::volume, 0, 1e6},
    {"water.lines[].pump.flow", Dim::flow, 0, 100000, kAbove},
    {"water.lines[].pump.head", Dim::head, 0, 500, kAbove},
    {"water.lines[].lift", Dim::length, -100, 500},
    {"water.lines[].tube.length", Dim::length, 0, 10000, kAbove},
    {"water.lines[].tube.bore", Dim::bore, 0, 1000, kAbove},
    {"water.lines[].outlets.count", Dim::number, 1, 10000},
    {"water.lines[].outlets.flow", Dim::flow, 0, 10000, kAbove},
    {"water.lines[].outlets.at", Dim::head, 0, 500, kAbove},
    {"water.lines[].outlets.exponent", Dim::number, 0, 1},
    {"water.lines[].outlets.height", Dim::length, -100, 500},
    {"water.lines[].demand", Dim::volume, 0, 1e6},
    {"water.lines[].demand.plants", Dim::number, 1, 1e6},
    {"water.lines[].demand.each", Dim::volume, 0, 1000},
    {"water.lines[].demand.area", Dim::area, 0, 1e6, kAbove},

    {"aim.autonomy", Dim::days, 0, 365},
    {"aim.shortfall_days", Dim::days, 0, 365},
    {"aim.floor", Dim::share, 0, 1, kAbove},
};

}  // namespace limits

/// The limits of a field, looked up while the program is compiled.
/// @param dimension  where a field may be said in one of two
consteval const SiteLimits& limits_of(std::string_view field) {
  for (const SiteLimits& one : limits::kAll) {
    if (one.field == field) return one;
  }
  throw "no such field";
}
consteval const SiteLimits& limits_of(std::string_view field, Dimension dimension) {
  for (const SiteLimits& one : limits::kAll) {
    if (one.field == field && one.dimension == dimension) return one;
  }
  throw "no such field";
}

}  // namespace amptally
