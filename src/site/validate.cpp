#include "amptally/validate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "amptally/battery_type.hpp"
#include "amptally/error.hpp"
#include "amptally/site_field.hpp"

#include "site/problem_list.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally {

// ---- The list --------------------------------------------------------------------------------

void ProblemList::add(std::string_view field, At at, std::string message) {
  const std::array<std::size_t, 2> elements = {at.first, at.second};
  std::string path;
  std::size_t known = 0;
  for (std::size_t i = 0; i < field.size(); ++i) {
    path += field[i];
    const bool is_open = field[i] == '[' && i + 1 < field.size() && field[i + 1] == ']';
    if (is_open) path += std::to_string(elements[known++]);
  }
  problems_.push_back({std::move(path), std::move(message)});
}

void ProblemList::months(const SiteLimits& limits, std::span<const double> values) {
  for (std::size_t m = 0; m < values.size(); ++m) {
    if (limits.allow(values[m])) continue;
    SiteLimits of_month = limits;
    const std::string field = std::string(limits.field) + "[]";
    of_month.field = field;
    note_outside(of_month, values[m], {m});
  }
}

void ProblemList::draw(const SiteLimits& amperes, const SiteLimits& watts, const Draw& draw,
                       At at) {
  if (!choice(amperes.field, draw.unit, Draw::Unit::watts, at)) return;
  number(draw.unit == Draw::Unit::watts ? watts : amperes, draw.value, at);
}

void ProblemList::threshold(const SiteLimits& volts, const SiteLimits& share,
                            const std::optional<Threshold>& threshold) {
  if (!threshold) return;
  if (!choice(volts.field, threshold->unit, Threshold::Unit::state_of_charge)) return;
  number(threshold->unit == Threshold::Unit::volts ? volts : share, threshold->value);
}

void ProblemList::note_outside(const SiteLimits& limits, double value, At at) {
  // A share is 0..1 here, not per cent as in a file.
  const bool has_unit = limits.dimension != Dimension::share;
  const std::string_view symbol = has_unit ? base_unit(limits.dimension) : "";
  const std::string unit = symbol.empty() ? "" : fmt::format(" {}", symbol);
  const std::string range =
      limits.above_low
          ? fmt::format("above {:g} and up to {:.9g}{}", limits.low, limits.top(), unit)
          : fmt::format("in {:g}..{:.9g}{}", limits.low, limits.top(), unit);
  add(limits.field, at, fmt::format("{:.9g}{} is not {}", value, unit, range));
}

void ProblemList::note_choice(std::string_view field, int index, At at) {
  add(field, at, fmt::format("{} is none of its kinds", index));
}

// ---- The parts of a site ---------------------------------------------------------------------

void check_place(const Place& place, ProblemList& problems) {
  problems.number(limits_of("place.latitude"), place.latitude_deg);
  problems.number(limits_of("place.longitude"), place.longitude_deg);
  problems.months(limits_of("place.insolation"), place.sun_horizontal_kwh_m2_day);
  problems.months(limits_of("place.temperature"), place.air_temp_c);
  problems.months(limits_of("place.rain"), place.rain_mm);
  problems.number(limits_of("place.elevation"), place.elevation_m);
  problems.number(limits_of("place.utc_offset"), place.utc_offset_h);
  problems.number(limits_of("place.albedo"), place.albedo);
  problems.number(limits_of("place.record_low"), place.record_low_c);
}

void check_plane(double tilt_deg, double azimuth_deg, std::span<const Obstacle> shade,
                 ProblemList& problems) {
  problems.number(limits_of("panel.tilt"), tilt_deg);
  problems.number(limits_of("panel.azimuth"), azimuth_deg);
  for (std::size_t i = 0; i < shade.size(); ++i) {
    problems.number(limits_of("panel.shade[].azimuth"), shade[i].azimuth_from_deg, {i});
    problems.number(limits_of("panel.shade[].azimuth"), shade[i].azimuth_to_deg, {i});
    problems.number(limits_of("panel.shade[].elevation"), shade[i].elevation_deg, {i});
    problems.number(limits_of("panel.shade[].blocks"), shade[i].blocks_share, {i});
  }
}

// How far vmp x imp may be from the rated power. Chosen: labels are rounded and toleranced; beyond
// this one of the three is a slip.
constexpr double kLabelTolerance_share = 0.15;

void check_label(const Panel& panel, ProblemList& problems) {
  // A label of no power has no currents: 0 is then not below 0.
  const bool gives_current = panel.imp_a && panel.isc_a && (*panel.imp_a > 0 || *panel.isc_a > 0);
  if (gives_current && *panel.imp_a >= *panel.isc_a) {
    problems.add("panel.imp", {},
                 fmt::format("{:g} A is not below isc, {:g} A", *panel.imp_a, *panel.isc_a));
  }
  if (panel.vmp_v && panel.voc_v && *panel.vmp_v >= *panel.voc_v) {
    problems.add("panel.vmp", {},
                 fmt::format("{:g} V is not below voc, {:g} V", *panel.vmp_v, *panel.voc_v));
  }
  if (!panel.imp_a || !panel.vmp_v) return;
  const double product_w = *panel.imp_a * *panel.vmp_v;
  if (std::abs(product_w - panel.power_w) > kLabelTolerance_share * panel.power_w) {
    problems.add("panel.power", {},
                 fmt::format("{:g} W, but vmp x imp is {:.4g} W (all three are of one panel; they "
                             "may differ by {:g} %)",
                             panel.power_w, product_w, 100 * kLabelTolerance_share));
  }
}

void check_strings(const Panel& panel, ProblemList& problems) {
  if (panel.series >= 1 && panel.count % panel.series != 0) {
    problems.add("panel.series", {},
                 fmt::format("{} does not divide count, {}", panel.series, panel.count));
  }
}

void check_heights(const Tank& tank, ProblemList& problems) {
  if (tank.level_m && tank.outlet_height_m && !(*tank.outlet_height_m < *tank.level_m)) {
    problems.add("water.tank.outlet_height", {},
                 fmt::format("{:g} m is not below the water level, {:g} m", *tank.outlet_height_m,
                             *tank.level_m));
  }
}

namespace {

void check_panel(const Panel& panel, ProblemList& problems) {
  problems.number(limits_of("panel.power"), panel.power_w);
  problems.number(limits_of("panel.count"), panel.count);
  problems.number(limits_of("panel.series"), panel.series);
  check_strings(panel, problems);
  problems.number(limits_of("panel.vmp"), panel.vmp_v);
  problems.number(limits_of("panel.imp"), panel.imp_a);
  problems.number(limits_of("panel.voc"), panel.voc_v);
  problems.number(limits_of("panel.isc"), panel.isc_a);
  check_label(panel, problems);
  problems.number(limits_of("panel.temp_coeff_power"), panel.temp_coeff_power_pct_k);
  problems.number(limits_of("panel.temp_coeff_voc"), panel.temp_coeff_voc_pct_k);
  problems.number(limits_of("panel.noct"), panel.noct_c);
  problems.number(limits_of("panel.losses"), panel.losses_share);
  check_plane(panel.tilt_deg, panel.azimuth_deg, panel.shade, problems);
}

void check_switching(const Regulator& regulator, ProblemList& problems) {
  if (regulator.kind == RegulatorKind::none) {
    constexpr const char* kNoSwitch = "there is no regulator (kind none) to switch the loads";
    if (regulator.cutoff) problems.add("regulator.cutoff", {}, kNoSwitch);
    if (regulator.reconnect) problems.add("regulator.reconnect", {}, kNoSwitch);
    return;
  }
  if (!regulator.reconnect) return;
  if (!regulator.cutoff) {
    problems.add("regulator.reconnect", {}, "is given without cutoff");
  } else if (regulator.cutoff->unit == regulator.reconnect->unit &&
             regulator.reconnect->value <= regulator.cutoff->value) {
    problems.add("regulator.reconnect", {},
                 fmt::format("{:g} is not above cutoff, {:g}", regulator.reconnect->value,
                             regulator.cutoff->value));
  }
}

void check_regulator(const Regulator& regulator, ProblemList& problems) {
  problems.choice("regulator.kind", regulator.kind, RegulatorKind::none);
  problems.draw(limits_of("regulator.standby", Dimension::current),
                limits_of("regulator.standby", Dimension::power), regulator.standby);
  problems.number(limits_of("regulator.efficiency"), regulator.efficiency_share);
  problems.number(limits_of("regulator.max_current"), regulator.max_current_a);
  problems.number(limits_of("regulator.max_panel_voltage"), regulator.max_panel_voltage_v);
  problems.threshold(limits_of("regulator.cutoff", Dimension::voltage),
                     limits_of("regulator.cutoff", Dimension::share), regulator.cutoff);
  problems.threshold(limits_of("regulator.reconnect", Dimension::voltage),
                     limits_of("regulator.reconnect", Dimension::share), regulator.reconnect);
  problems.number(limits_of("regulator.absorption"), regulator.absorption_v);
  check_switching(regulator, problems);
}

void check_battery(const Battery& battery, ProblemList& problems) {
  problems.choice("battery.kind", battery.kind, battery_types().back().kind);
  problems.number(limits_of("battery.voltage"), battery.voltage_v);
  problems.number(limits_of("battery.capacity"), battery.capacity_ah);
  problems.number(limits_of("battery.rated_hours"), battery.rated_hours);
  problems.number(limits_of("battery.parallel"), battery.parallel);
  problems.number(limits_of("battery.series"), battery.series);
  problems.number(limits_of("battery.floor"), battery.floor_share);
  problems.number(limits_of("battery.health"), battery.health_share);
  problems.number(limits_of("battery.start"), battery.start_share);
  problems.number(limits_of("battery.max_charge_current"), battery.max_charge_current_a);
  problems.number(limits_of("battery.peukert"), battery.peukert);
  problems.number(limits_of("battery.self_discharge"), battery.self_discharge_pct_month);
  problems.number(limits_of("battery.shelf_life"), battery.shelf_life_years);
  problems.number(limits_of("battery.price"), battery.price);
  for (std::size_t i = 0; i < battery.cycles.size(); ++i) {
    const CyclePoint& point = battery.cycles[i];
    problems.number(limits_of("battery.cycles[][0]"), point.depth_share, {i});
    problems.number(limits_of("battery.cycles[][1]"), point.cycles, {i});
    if (i > 0 && point.depth_share <= battery.cycles[i - 1].depth_share) {
      problems.add("battery.cycles[]", {i}, "the depths do not rise from point to point");
    }
  }
}

/// Notes that an element has no name, or that of an earlier one.
/// @param field  of the name
template <class Items>
void check_name(std::string_view field, const Items& items, std::size_t i, ProblemList& problems) {
  const std::string& name = items[i].name;
  const auto earlier = items.begin() + static_cast<std::ptrdiff_t>(i);
  if (name.empty()) problems.add(field, {i}, "is empty");
  if (std::any_of(name.begin(), name.end(),
                  [](char c) { return static_cast<unsigned char>(c) < ' ' || c == '\x7f'; })) {
    problems.add(field, {i}, in_quotes(name) + " holds a control character");
  }
  if (std::any_of(items.begin(), earlier, [&](const auto& item) { return item.name == name; })) {
    problems.add(field, {i}, in_quotes(name) + " is the name of an earlier one too");
  }
}

const WaterLine* line_called(const Site& site, const std::string& name) {
  if (!site.water) return nullptr;
  const auto& lines = site.water->lines;
  const auto it = std::find_if(lines.begin(), lines.end(),
                               [&](const WaterLine& line) { return line.name == name; });
  return it == lines.end() ? nullptr : &*it;
}

void check_schedule(const Site& site, std::size_t i, ProblemList& problems) {
  const Load& load = site.loads[i];
  if (const auto* const daily = std::get_if<PerDay>(&load.schedule)) {
    problems.number(limits_of("loads[].per_day"), daily->minutes, {i});
    problems.choice("loads[].when", daily->when, When::night, {i});
  } else if (const auto* const runs = std::get_if<Runs>(&load.schedule)) {
    for (std::size_t r = 0; r < runs->runs.size(); ++r) {
      problems.number(limits_of("loads[].runs[].at"), runs->runs[r].at_min, {i, r});
      problems.number(limits_of("loads[].runs[].for"), runs->runs[r].for_minutes, {i, r});
    }
    const double total_min =
        std::accumulate(runs->runs.begin(), runs->runs.end(), 0.0,
                        [](double sum, const Run& run) { return sum + run.for_minutes; });
    if (runs->runs.empty()) problems.add("loads[].runs", {i}, "has no runs");
    // The last digit of many runs that fill the day is rounding.
    if (total_min > kMinutesPerDay * (1 + 1e-9)) {
      problems.add(
          "loads[].runs", {i},
          fmt::format("add up to {:.4g} h a day, more than 24", total_min / kMinutesPerHour));
    }
  } else if (const auto* const from = std::get_if<FromWater>(&load.schedule)) {
    const WaterLine* const line = line_called(site, from->line);
    if (line == nullptr) {
      problems.add("loads[].from_water", {i},
                   in_quotes(from->line) + " is not the name of a water line");
    } else if (!line->demand) {
      problems.add("water.lines", {},
                   fmt::format("line {} has no demand, which sets its minutes (give demand)",
                               in_quotes(from->line)));
    }
  }
}

void check_load(const Site& site, std::size_t i, ProblemList& problems) {
  const Load& load = site.loads[i];
  check_name("loads[].name", site.loads, i, problems);
  if (load.name == "panel" || load.name == "battery") {
    problems.add("loads[].name", {i}, in_quotes(load.name) + " is kept for cables");
  }
  problems.draw(limits_of("loads[].draw", Dimension::current),
                limits_of("loads[].draw", Dimension::power), load.draw, {i});
  problems.number(limits_of("loads[].count"), load.count, {i});
  check_schedule(site, i, problems);
  problems.number(limits_of("loads[].every"), load.every_days, {i});
  problems.number(limits_of("loads[].start_factor"), load.start_factor, {i});
  if (load.idle) {
    problems.draw(limits_of("loads[].idle", Dimension::current),
                  limits_of("loads[].idle", Dimension::power), *load.idle, {i});
  }
}

void check_cable(const Site& site, std::size_t i, ProblemList& problems) {
  const Cable& cable = site.wiring[i];
  check_name("wiring[].name", site.wiring, i, problems);
  const bool known = cable.feeds == "panel" || cable.feeds == "battery" ||
                     std::any_of(site.loads.begin(), site.loads.end(),
                                 [&](const Load& load) { return load.name == cable.feeds; });
  if (!known) {
    problems.add("wiring[].feeds", {i},
                 in_quotes(cable.feeds) + " is neither a load nor panel nor battery");
  }
  problems.number(limits_of("wiring[].length"), cable.length_m, {i});
  problems.number(limits_of("wiring[].section"), cable.section_mm2, {i});
  problems.number(limits_of("wiring[].max_drop"), cable.max_drop_share, {i});
}

void check_tank(const Tank& tank, ProblemList& problems) {
  problems.number(limits_of("water.tank.volume"), tank.volume_l);
  problems.number(limits_of("water.tank.level"), tank.level_m);
  problems.number(limits_of("water.tank.outlet_height"), tank.outlet_height_m);
  check_heights(tank, problems);
  problems.number(limits_of("water.tank.roof"), tank.roof_m2);
  problems.number(limits_of("water.tank.runoff"), tank.runoff_share);
  problems.months(limits_of("water.tank.refill"), tank.refill_l_month);
  if (!tank.refill_l_month.empty() && tank.refill_l_month.size() != kMonthsPerYear) {
    problems.add("water.tank.refill", {},
                 fmt::format("{} values instead of 12", tank.refill_l_month.size()));
  }
}

void check_demand(const WaterLine& line, std::size_t i, ProblemList& problems) {
  if (!line.demand) return;
  if (const auto* const plants = std::get_if<PlantDemand>(&*line.demand)) {
    problems.number(limits_of("water.lines[].demand.plants"), plants->plants, {i});
    problems.number(limits_of("water.lines[].demand.each"), plants->each_l, {i});
  } else if (const auto* const crop = std::get_if<CropDemand>(&*line.demand)) {
    problems.number(limits_of("water.lines[].demand.area"), crop->area_m2, {i});
  } else if (const auto* const volume = std::get_if<DailyVolume>(&*line.demand)) {
    problems.number(limits_of("water.lines[].demand"), volume->litres, {i});
  }
}

void check_line(const std::vector<WaterLine>& lines, std::size_t i, ProblemList& problems) {
  const WaterLine& line = lines[i];
  check_name("water.lines[].name", lines, i, problems);
  if (line.pump) {
    problems.number(limits_of("water.lines[].pump.flow"), line.pump->flow_l_h, {i});
    problems.number(limits_of("water.lines[].pump.head"), line.pump->head_m, {i});
  }
  problems.number(limits_of("water.lines[].lift"), line.lift_m, {i});
  if (line.tube) {
    problems.number(limits_of("water.lines[].tube.length"), line.tube->length_m, {i});
    problems.number(limits_of("water.lines[].tube.bore"), line.tube->bore_mm, {i});
  }
  if (line.outlets) {
    problems.number(limits_of("water.lines[].outlets.count"), line.outlets->count, {i});
    problems.number(limits_of("water.lines[].outlets.flow"), line.outlets->flow_l_h, {i});
    problems.number(limits_of("water.lines[].outlets.at"), line.outlets->at_m, {i});
    problems.number(limits_of("water.lines[].outlets.exponent"), line.outlets->exponent, {i});
    problems.number(limits_of("water.lines[].outlets.height"), line.outlets->height_m, {i});
  }
  check_demand(line, i, problems);
  problems.choice("water.lines[].valve", line.valve, SiphonValve::air_break, {i});
}

void check_water(const Water& water, ProblemList& problems) {
  if (water.tank) check_tank(*water.tank, problems);
  for (std::size_t i = 0; i < water.lines.size(); ++i) check_line(water.lines, i, problems);
}

void check_aim(const Aim& aim, ProblemList& problems) {
  problems.number(limits_of("aim.autonomy"), aim.autonomy_days);
  problems.number(limits_of("aim.shortfall_days"), aim.shortfall_days);
  problems.number(limits_of("aim.floor"), aim.floor_share);
}

/// `loads[0].runs[2].for` -> `loads[].runs[].for`, and without a month at the end.
std::string pattern_of(std::string_view path) {
  std::string pattern;
  for (const char c : path) {
    if (!(is_digit(c) && !pattern.empty() && pattern.back() == '[')) pattern += c;
  }
  if (pattern.ends_with("[]")) pattern.resize(pattern.size() - 2);
  return pattern == "place.insolation.values" ? "place.insolation" : pattern;
}

/// A field that is rough is one the site has, and both its ends are values it may have.
void check_rough(const Site& site, ProblemList& problems) {
  for (const RoughInput& rough : site.rough) {
    const std::string field = on_one_line(rough.field);
    try {
      (void)site_field(site, rough.field);
    } catch (const InputError& error) {
      problems.add(field, {}, error.message());
      continue;
    }
    const std::string pattern = pattern_of(rough.field);
    for (const SiteLimits& limits : limits::kAll) {
      if (limits.field != pattern || base_unit(limits.dimension) != rough.unit) continue;
      SiteLimits of_element = limits;
      of_element.field = field;
      problems.number(of_element, rough.low);
      problems.number(of_element, rough.high);
    }
    if (!(rough.low <= rough.high)) {
      problems.add(field, {}, fmt::format("{:g}..{:g} is upside down", rough.low, rough.high));
    }
  }
}

}  // namespace

// ---- All of it -------------------------------------------------------------------------------

std::vector<SiteProblem> validate(const Place& place) {
  ProblemList problems;
  check_place(place, problems);
  return problems.take();
}

void check_all_but_rough(const Site& site, ProblemList& problems) {
  check_place(site.place, problems);
  check_panel(site.panel, problems);
  check_regulator(site.regulator, problems);
  check_battery(site.battery, problems);
  for (std::size_t i = 0; i < site.loads.size(); ++i) check_load(site, i, problems);
  for (std::size_t i = 0; i < site.wiring.size(); ++i) check_cable(site, i, problems);
  if (site.water) check_water(*site.water, problems);
  check_aim(site.aim, problems);
}

std::vector<SiteProblem> validate(const Site& site) {
  ProblemList problems;
  check_all_but_rough(site, problems);
  check_rough(site, problems);
  return problems.take();
}

void require_none(const std::vector<SiteProblem>& problems) {
  if (problems.empty()) return;
  const SiteProblem& first = problems.front();
  const std::size_t more = problems.size() - 1;
  throw InputError(first.field, more == 0 ? first.message
                                          : fmt::format("{} (and {} more problem{})", first.message,
                                                        more, more == 1 ? "" : "s"));
}

void require_valid(const Site& site) { require_none(validate(site)); }
void require_valid(const Place& place) { require_none(validate(place)); }

}  // namespace amptally
