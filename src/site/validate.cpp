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
#include "site/site_numbers.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {

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

void ProblemList::note_outside(std::string_view field, const Limits& limits, double value, At at) {
  // A share is 0..1 here, not per cent as in a file.
  const bool has_unit = limits.dimension != Dimension::share;
  const std::string_view symbol = has_unit ? base_unit(limits.dimension) : "";
  const std::string unit = symbol.empty() ? "" : fmt::format(" {}", symbol);
  const std::string range =
      limits.above_low ? fmt::format("above {:g} and up to {:.9g}{}", limits.low, limits.high, unit)
                       : fmt::format("in {:g}..{:.9g}{}", limits.low, limits.high, unit);
  add(field, at, fmt::format("{:.9g}{} is not {}", value, unit, range));
}

void ProblemList::note_choice(std::string_view field, int index, At at) {
  add(field, at, fmt::format("{} is none of its kinds", index));
}

// ---- Numbers -----------------------------------------------------------------------------------

namespace {

/// Every number that the table of fields knows how to find, in the table's order.
/// @param under  only of fields whose path begins so
void check_numbers(const Site& site, ProblemList& problems, std::string_view under = {}) {
  const auto check = [&](const SiteNumber& number) {
    if (number.limits->allow(number.value)) return;
    problems.number(number.path(), *number.limits, number.value);
  };
  for_each_number(site, check, under);
}

// What a file writes in a form of its own, so that the table has no number there.
constexpr Limits kRunStart{Dimension::minutes, 0, kMinutesPerDay};
constexpr Limits kCycleDepth{Dimension::share, 0, 1, true};
constexpr Limits kCycles{Dimension::number, 0, 1e7, true};

void check_extents(std::span<const Obstacle> shade, ProblemList& problems) {
  constexpr std::string_view kField = "panel.shade[].azimuth";
  const Limits& limits = find_field(kField)->limits.front();
  for (std::size_t i = 0; i < shade.size(); ++i) {
    problems.number(kField, limits, shade[i].azimuth_from_deg, {i});
    problems.number(kField, limits, shade[i].azimuth_to_deg, {i});
  }
}

}  // namespace

// ---- The parts of a site ---------------------------------------------------------------------

void check_place(const Place& place, ProblemList& problems) {
  Site alone;
  alone.place = place;
  check_numbers(alone, problems, "place.");
}

void check_plane(double tilt_deg, double azimuth_deg, std::span<const Obstacle> shade,
                 double albedo, ProblemList& problems) {
  Site alone;
  alone.panel.tilt_deg = tilt_deg;
  alone.panel.azimuth_deg = azimuth_deg;
  alone.panel.shade.assign(shade.begin(), shade.end());
  alone.place.albedo = albedo;
  for (const auto* under : {"panel.tilt", "panel.azimuth", "panel.shade", "place.albedo"}) {
    check_numbers(alone, problems, under);
  }
  check_extents(shade, problems);
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
  check_strings(panel, problems);
  check_label(panel, problems);
  check_extents(panel.shade, problems);
}

void check_draw_unit(std::string_view field, const Draw& draw, At at, ProblemList& problems) {
  problems.choice(field, draw.unit, Draw::Unit::watts, at);
}

void check_threshold_unit(std::string_view field, const std::optional<Threshold>& threshold,
                          ProblemList& problems) {
  if (!threshold) return;
  problems.choice(field, threshold->unit, Threshold::Unit::state_of_charge);
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
  check_draw_unit("regulator.standby", regulator.standby, {}, problems);
  check_threshold_unit("regulator.cutoff", regulator.cutoff, problems);
  check_threshold_unit("regulator.reconnect", regulator.reconnect, problems);
  check_switching(regulator, problems);
}

void check_battery(const Battery& battery, ProblemList& problems) {
  problems.choice("battery.kind", battery.kind, battery_types().back().kind);
  for (std::size_t i = 0; i < battery.cycles.size(); ++i) {
    const CyclePoint& point = battery.cycles[i];
    problems.number("battery.cycles[][0]", kCycleDepth, point.depth_share, {i});
    problems.number("battery.cycles[][1]", kCycles, point.cycles, {i});
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
    problems.choice("loads[].when", daily->when, When::night, {i});
  } else if (const auto* const runs = std::get_if<Runs>(&load.schedule)) {
    for (std::size_t r = 0; r < runs->runs.size(); ++r) {
      problems.number("loads[].runs[].at", kRunStart, runs->runs[r].at_min, {i, r});
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
    } else if (!line->tube && !line->outlets) {
      problems.add("water.lines", {},
                   fmt::format("line {} has neither tube nor outlets, which set its minutes (give "
                               "tube, its length and bore)",
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
  check_draw_unit("loads[].draw", load.draw, {i}, problems);
  if (load.idle) check_draw_unit("loads[].idle", *load.idle, {i}, problems);
  check_schedule(site, i, problems);
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
}

void check_tank(const Tank& tank, ProblemList& problems) {
  check_heights(tank, problems);
  if (!tank.refill_l_month.empty() && tank.refill_l_month.size() != kMonthsPerYear) {
    problems.add("water.tank.refill", {},
                 fmt::format("{} values instead of 12", tank.refill_l_month.size()));
  }
}

void check_line(const std::vector<WaterLine>& lines, std::size_t i, ProblemList& problems) {
  check_name("water.lines[].name", lines, i, problems);
  problems.choice("water.lines[].valve", lines[i].valve, SiphonValve::air_break, {i});
}

void check_water(const Water& water, ProblemList& problems) {
  if (water.tank) check_tank(*water.tank, problems);
  for (std::size_t i = 0; i < water.lines.size(); ++i) check_line(water.lines, i, problems);
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
    for (const Limits& limits : field_at(rough.field)->field->limits) {
      if (base_unit(limits.dimension) != rough.unit) continue;
      problems.number(field, limits, rough.low);
      problems.number(field, limits, rough.high);
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
  check_numbers(site, problems);
  check_panel(site.panel, problems);
  check_regulator(site.regulator, problems);
  check_battery(site.battery, problems);
  for (std::size_t i = 0; i < site.loads.size(); ++i) check_load(site, i, problems);
  for (std::size_t i = 0; i < site.wiring.size(); ++i) check_cable(site, i, problems);
  if (site.water) check_water(*site.water, problems);
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

}  // namespace amptally::inline v0_1
