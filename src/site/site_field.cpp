#include "amptally/site_field.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "amptally/error.hpp"

#include "text/message_text.hpp"

namespace amptally {
namespace {

/// The numbers in a path's brackets, in order; no field has more than two.
using Indices = std::array<std::size_t, 2>;

/// `loads[0].runs[2].for` as `loads[].runs[].for` with 0 and 2.
struct Path {
  std::string pattern;
  Indices at{};
};

std::optional<Path> parsed(std::string_view text) {
  Path path;
  std::size_t known = 0;
  while (!text.empty()) {
    path.pattern += text.front();
    const bool opens = text.front() == '[';
    text.remove_prefix(1);
    if (!opens) continue;
    if (known == path.at.size()) return std::nullopt;
    const auto [end, fault] =
        std::from_chars(text.data(), text.data() + text.size(), path.at[known]);
    if (fault != std::errc()) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    ++known;
  }
  return path;
}

// ---- Where a number is; null where the site has none ---------------------------------------

double* number(double& value) { return &value; }
double* number(Draw& draw) { return &draw.value; }
double* number(Threshold& threshold) { return &threshold.value; }
template <class T>
double* number(std::optional<T>& given) {
  return given ? number(*given) : nullptr;
}

template <class T>
T* item(std::vector<T>& list, std::size_t i) {
  return i < list.size() ? &list[i] : nullptr;
}

template <class T, class Member>
double* of(T* object, Member T::*member) {
  return object != nullptr ? number(object->*member) : nullptr;
}

template <class T, class Part>
Part* part(T* object, std::optional<Part> T::*member) {
  return object != nullptr && object->*member ? &*(object->*member) : nullptr;
}

double* month(Monthly& values, std::size_t i) { return i < values.size() ? &values[i] : nullptr; }

double* per_day(Load* load) {
  return load != nullptr ? of(std::get_if<PerDay>(&load->schedule), &PerDay::minutes) : nullptr;
}

double* run_length(Load* load, std::size_t i) {
  Runs* const runs = load != nullptr ? std::get_if<Runs>(&load->schedule) : nullptr;
  return runs != nullptr ? of(item(runs->runs, i), &Run::for_minutes) : nullptr;
}

Tank* tank(Site& site) { return site.water ? part(&*site.water, &Water::tank) : nullptr; }

double* refill(Tank* tank, std::size_t i) {
  return tank != nullptr ? item(tank->refill_l_month, i) : nullptr;
}

WaterLine* line(Site& site, std::size_t i) {
  return site.water ? item(site.water->lines, i) : nullptr;
}

template <class Kind>
Kind* demand(WaterLine* line) {
  return line != nullptr && line->demand ? std::get_if<Kind>(&*line->demand) : nullptr;
}

// ---- The fields ----------------------------------------------------------------------------

struct Entry {
  std::string_view pattern;
  double* (*find)(Site& site, const Indices& at);
};

using S = Site&;
using I = const Indices&;

constexpr Entry kEntries[] = {
    {"place.insolation[]", [](S s, I i) { return month(s.place.sun_horizontal_kwh_m2_day, i[0]); }},
    {"place.insolation.values[]",
     [](S s, I i) { return month(s.place.sun_horizontal_kwh_m2_day, i[0]); }},
    {"place.temperature[]", [](S s, I i) { return month(s.place.air_temp_c, i[0]); }},
    {"place.rain[]", [](S s, I i) { return month(s.place.rain_mm, i[0]); }},
    {"place.elevation", [](S s, I) { return number(s.place.elevation_m); }},
    {"place.albedo", [](S s, I) { return number(s.place.albedo); }},
    {"place.record_low", [](S s, I) { return number(s.place.record_low_c); }},

    {"panel.power", [](S s, I) { return number(s.panel.power_w); }},
    {"panel.vmp", [](S s, I) { return number(s.panel.vmp_v); }},
    {"panel.imp", [](S s, I) { return number(s.panel.imp_a); }},
    {"panel.voc", [](S s, I) { return number(s.panel.voc_v); }},
    {"panel.isc", [](S s, I) { return number(s.panel.isc_a); }},
    {"panel.temp_coeff_power", [](S s, I) { return number(s.panel.temp_coeff_power_pct_k); }},
    {"panel.temp_coeff_voc", [](S s, I) { return number(s.panel.temp_coeff_voc_pct_k); }},
    {"panel.noct", [](S s, I) { return number(s.panel.noct_c); }},
    {"panel.tilt", [](S s, I) { return number(s.panel.tilt_deg); }},
    {"panel.azimuth", [](S s, I) { return number(s.panel.azimuth_deg); }},
    {"panel.losses", [](S s, I) { return number(s.panel.losses_share); }},
    {"panel.shade[].elevation",
     [](S s, I i) { return of(item(s.panel.shade, i[0]), &Obstacle::elevation_deg); }},
    {"panel.shade[].blocks",
     [](S s, I i) { return of(item(s.panel.shade, i[0]), &Obstacle::blocks_share); }},

    {"regulator.standby", [](S s, I) { return number(s.regulator.standby); }},
    {"regulator.efficiency", [](S s, I) { return number(s.regulator.efficiency_share); }},
    {"regulator.max_current", [](S s, I) { return number(s.regulator.max_current_a); }},
    {"regulator.max_panel_voltage", [](S s, I) { return number(s.regulator.max_panel_voltage_v); }},
    {"regulator.cutoff", [](S s, I) { return number(s.regulator.cutoff); }},
    {"regulator.reconnect", [](S s, I) { return number(s.regulator.reconnect); }},
    {"regulator.absorption", [](S s, I) { return number(s.regulator.absorption_v); }},

    {"battery.capacity", [](S s, I) { return number(s.battery.capacity_ah); }},
    {"battery.rated_hours", [](S s, I) { return number(s.battery.rated_hours); }},
    {"battery.floor", [](S s, I) { return number(s.battery.floor_share); }},
    {"battery.health", [](S s, I) { return number(s.battery.health_share); }},
    {"battery.start", [](S s, I) { return number(s.battery.start_share); }},
    {"battery.max_charge_current", [](S s, I) { return number(s.battery.max_charge_current_a); }},
    {"battery.peukert", [](S s, I) { return number(s.battery.peukert); }},
    {"battery.self_discharge", [](S s, I) { return number(s.battery.self_discharge_pct_month); }},
    {"battery.shelf_life", [](S s, I) { return number(s.battery.shelf_life_years); }},
    {"battery.price", [](S s, I) { return number(s.battery.price); }},

    {"loads[].draw", [](S s, I i) { return of(item(s.loads, i[0]), &Load::draw); }},
    {"loads[].per_day", [](S s, I i) { return per_day(item(s.loads, i[0])); }},
    {"loads[].runs[].for", [](S s, I i) { return run_length(item(s.loads, i[0]), i[1]); }},
    {"loads[].start_factor", [](S s, I i) { return of(item(s.loads, i[0]), &Load::start_factor); }},
    {"loads[].idle", [](S s, I i) { return of(item(s.loads, i[0]), &Load::idle); }},

    {"wiring[].length", [](S s, I i) { return of(item(s.wiring, i[0]), &Cable::length_m); }},
    {"wiring[].section", [](S s, I i) { return of(item(s.wiring, i[0]), &Cable::section_mm2); }},
    {"wiring[].max_drop",
     [](S s, I i) { return of(item(s.wiring, i[0]), &Cable::max_drop_share); }},

    {"water.tank.volume", [](S s, I) { return of(tank(s), &Tank::volume_l); }},
    {"water.tank.level", [](S s, I) { return of(tank(s), &Tank::level_m); }},
    {"water.tank.outlet_height", [](S s, I) { return of(tank(s), &Tank::outlet_height_m); }},
    {"water.tank.roof", [](S s, I) { return of(tank(s), &Tank::roof_m2); }},
    {"water.tank.runoff", [](S s, I) { return of(tank(s), &Tank::runoff_share); }},
    {"water.tank.refill[]", [](S s, I i) { return refill(tank(s), i[0]); }},
    {"water.lines[].pump.flow",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::pump), &WaterPump::flow_l_h); }},
    {"water.lines[].pump.head",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::pump), &WaterPump::head_m); }},
    {"water.lines[].lift", [](S s, I i) { return of(line(s, i[0]), &WaterLine::lift_m); }},
    {"water.lines[].tube.length",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::tube), &Tube::length_m); }},
    {"water.lines[].tube.bore",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::tube), &Tube::bore_mm); }},
    {"water.lines[].outlets.flow",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::outlets), &Outlets::flow_l_h); }},
    {"water.lines[].outlets.at",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::outlets), &Outlets::at_m); }},
    {"water.lines[].outlets.exponent",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::outlets), &Outlets::exponent); }},
    {"water.lines[].outlets.height",
     [](S s, I i) { return of(part(line(s, i[0]), &WaterLine::outlets), &Outlets::height_m); }},
    {"water.lines[].demand",
     [](S s, I i) { return of(demand<DailyVolume>(line(s, i[0])), &DailyVolume::litres); }},
    {"water.lines[].demand.each",
     [](S s, I i) { return of(demand<PlantDemand>(line(s, i[0])), &PlantDemand::each_l); }},
    {"water.lines[].demand.area",
     [](S s, I i) { return of(demand<CropDemand>(line(s, i[0])), &CropDemand::area_m2); }},
};

double& found(Site& site, std::string_view path) {
  const std::optional<Path> at = parsed(path);
  const auto* const entry =
      std::find_if(std::begin(kEntries), std::end(kEntries),
                   [&](const Entry& e) { return at && e.pattern == at->pattern; });
  if (entry == std::end(kEntries)) {
    throw InputError(on_one_line(path), "is not a numeric field that may be a range");
  }
  double* const value = entry->find(site, at->at);
  if (value == nullptr) throw InputError(on_one_line(path), "is not given in this site");
  return *value;
}

}  // namespace

double site_field(const Site& site, std::string_view path) {
  // One table serves reading and writing; nothing is written here.
  return found(const_cast<Site&>(site), path);
}

void set_site_field(Site& site, std::string_view path, double value) { found(site, path) = value; }

}  // namespace amptally
