#include "amptally/wiring.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <vector>

#include <fmt/format.h>

#include "amptally/load_profile.hpp"

#include "parts/electrical_limits.hpp"

namespace amptally::inline v0_1 {
namespace {

/// A fuse lasts at four fifths of its rating. Source: the 125 % of NEC 210.20(A) and 215.3 for
/// current that lasts.
constexpr double kFuseOverRunning = 1.25;

/// Sizes closer than this are the same. Chosen: rounding of a gauge's section is below, the next
/// size is far above.
constexpr double kSameSection_share = 0.005;

// ---- The section a cable has -----------------------------------------------------------------

/// A section's figures, whether or not it is a standard one.
struct Section {
  double ohm_m;
  double ampacity_a;
  std::string assumption;
};

Section standard_section(const Conductor& conductor) {
  return {resistance_ohm_m(conductor), conductor.ampacity_a, ""};
}

/// Of metal alike, resistance goes as 1/area; what may flow is that of the next thinner size. Below
/// the thinnest, it goes with the area.
Section odd_section(double section_mm2) {
  const auto all = conductors();
  const Conductor* base = &all.front();
  for (const Conductor& conductor : all) {
    if (conductor.standard == ConductorStandard::iec && conductor.section_mm2 < section_mm2) {
      base = &conductor;
    }
  }
  const double area_share = section_mm2 / base->section_mm2;
  return {resistance_ohm_m(*base) / area_share, base->ampacity_a * std::min(1.0, area_share),
          fmt::format("{:.3g} mm² is not in the table of conductors: its resistance is scaled by "
                      "area from {} mm², and it is taken to carry {:.2g} A.",
                      section_mm2, base->size, base->ampacity_a * std::min(1.0, area_share))};
}

const Conductor* conductor_of(double section_mm2) {
  const auto all = conductors();
  const auto same = std::find_if(all.begin(), all.end(), [&](const Conductor& conductor) {
    return std::abs(conductor.section_mm2 / section_mm2 - 1) < kSameSection_share;
  });
  return same != all.end() ? &*same : nullptr;
}

Section section_of(double section_mm2) {
  const Conductor* const conductor = conductor_of(section_mm2);
  return conductor != nullptr ? standard_section(*conductor) : odd_section(section_mm2);
}

// ---- What flows ------------------------------------------------------------------------------

/// What flows in a cable.
struct Flow {
  double voltage_v;
  double running_a;
  double start_a;
  double fuse_needed_a;
  double mean_square_a2;  ///< over the mean year
};

/// A load's current through the year.
struct LoadFlow {
  double on_a;
  double mean_a;
  double mean_square_a2;
};

/// @param load   one of the site's, or one of its valves
/// @param index  of it in the load profile
LoadFlow load_flow(const Site& site, const Simulation& prepared, const Load& load,
                   std::size_t index) {
  const double bank_v = site.battery.bank_voltage_v();
  const double on_a = load.draw.current_a(bank_v) * load.count;
  const double off_a = load.idle ? load.idle->current_a(bank_v) * load.count : 0;
  const double mean_a = prepared.loads.load_ah[index] / kHoursPerYear;
  // The share of the year it is on follows from the year's amp-hours.
  const double on_share = on_a != off_a ? (mean_a - off_a) / (on_a - off_a) : 1;
  return {on_a, mean_a, on_a * on_a * on_share + off_a * off_a * (1 - on_share)};
}

Flow to_load(const Site& site, const Simulation& prepared, std::size_t i) {
  const LoadFlow load = load_flow(site, prepared, site.loads[i], i);
  return {.voltage_v = site.battery.bank_voltage_v(),
          .running_a = load.on_a,
          .start_a = load.on_a * site.loads[i].start_factor,
          .fuse_needed_a = kFuseOverRunning * load.on_a,
          .mean_square_a2 = load.mean_square_a2};
}

double mean_square(const std::vector<double>& values) {
  return std::inner_product(values.begin(), values.end(), values.begin(), 0.0) /
         static_cast<double>(values.size());
}

/// The panel's current is the battery's; an mppt regulator converts it.
Flow from_panel(const Site& site, const Simulation& prepared) {
  const PanelRating& rating = prepared.rating;
  const double string_v = site.panel.series * rating.vmp_v;
  const double strings = static_cast<double>(site.panel.count) / site.panel.series;
  const double panel_per_battery_a =
      site.regulator.kind == RegulatorKind::mppt
          ? charging_voltage_v(site.battery) / (site.regulator.efficiency_share * string_v)
          : 1;
  const double running_a = strings * rating.imp_a;
  return {.voltage_v = string_v,
          .running_a = running_a,
          .start_a = running_a,
          .fuse_needed_a = nec_string_current_a(short_circuit_a(site, rating)),
          .mean_square_a2 =
              panel_per_battery_a * panel_per_battery_a * mean_square(prepared.offer.current_a)};
}

/// All loads, solenoid valves among them, and the charge. Loads start one at a time; apart from
/// that each runs when it likes, so the mean square of their sum is (sum of means)^2 + sum of
/// variances.
Flow at_battery(const Site& site, const Simulation& prepared) {
  double loads_a = standby_current_a(site);
  double inrush_a = 0;
  double mean_a = standby_current_a(site);
  double variance_a2 = 0;
  const std::vector<Load> loads = profiled_loads(site);
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const LoadFlow load = load_flow(site, prepared, loads[i], i);
    loads_a += load.on_a;
    inrush_a = std::max(inrush_a, load.on_a * (loads[i].start_factor - 1));
    mean_a += load.mean_a;
    variance_a2 += load.mean_square_a2 - load.mean_a * load.mean_a;
  }
  const double running_a = std::max(loads_a, full_charge_a(site));
  return {.voltage_v = site.battery.bank_voltage_v(),
          .running_a = running_a,
          .start_a = std::max(running_a, loads_a + inrush_a),
          .fuse_needed_a = kFuseOverRunning * running_a,
          .mean_square_a2 = mean_a * mean_a + variance_a2 + mean_square(prepared.offer.current_a)};
}

const Load* load_at(const Site& site, const Cable& cable) {
  const auto found = std::find_if(site.loads.begin(), site.loads.end(),
                                  [&](const Load& load) { return load.name == cable.feeds; });
  return found != site.loads.end() ? &*found : nullptr;
}

Flow flow_in(const Site& site, const Simulation& prepared, const Cable& cable) {
  if (cable.feeds == "panel") return from_panel(site, prepared);
  if (cable.feeds == "battery") return at_battery(site, prepared);
  // Never null: validation has refused a cable that feeds nothing the site has.
  const Load* const load = load_at(site, cable);
  return to_load(site, prepared, static_cast<std::size_t>(load - site.loads.data()));
}

// ---- One cable -------------------------------------------------------------------------------

/// What the site says, or what would do; where nothing would, the thickest there is.
double section_looked_at_mm2(const Cable& cable, const Conductor* thinnest) {
  if (cable.section_mm2) return *cable.section_mm2;
  if (thinnest != nullptr) return thinnest->section_mm2;
  double thickest_mm2 = 0;
  for (const Conductor& conductor : conductors()) {
    thickest_mm2 = std::max(thickest_mm2, conductor.section_mm2);
  }
  return thickest_mm2;
}

CableCheck check_cable(const Site& site, const Simulation& prepared, const Cable& cable) {
  const Flow flow = flow_in(site, prepared, cable);
  const std::optional<double> fuse_a = blade_fuse_a(flow.fuse_needed_a);
  const Circuit circuit{.current_a = flow.running_a,
                        .length_m = cable.length_m,
                        .voltage_v = flow.voltage_v,
                        .max_drop_share = cable.max_drop_share,
                        .fuse_a = fuse_a.value_or(flow.fuse_needed_a)};
  const Conductor* const thinnest = thinnest_conductor(ConductorStandard::iec, circuit);
  const double section_mm2 = section_looked_at_mm2(cable, thinnest);
  const Section section = section_of(section_mm2);
  const double drop = drop_v(circuit, section.ohm_m);
  const double loop_ohm = 2 * cable.length_m * section.ohm_m;
  CableCheck check{.cable = cable,
                   .section_mm2 = section_mm2,
                   .voltage_v = flow.voltage_v,
                   .current_a = flow.running_a,
                   .start_current_a = flow.start_a,
                   .drop_v = drop,
                   .drop_share = drop / flow.voltage_v,
                   .start_drop_share = flow.start_a * loop_ohm / flow.voltage_v,
                   .loss_wh_day = kHoursPerDay * flow.mean_square_a2 * loop_ohm,
                   .ampacity_a = section.ampacity_a,
                   .fuse_needed_a = flow.fuse_needed_a,
                   .thinnest_iec = thinnest,
                   .thinnest_awg = thinnest_conductor(ConductorStandard::awg, circuit),
                   .assumption = section.assumption};
  if (fuse_a && *fuse_a <= section.ampacity_a) check.fuse_a = fuse_a;
  // Beyond the supply there is no voltage left to lose.
  const double left_share = std::max(0.0, 1 - check.drop_share);
  if (load_at(site, cable)) check.pump_flow_share = affinity_shares(left_share).flow_share;
  return check;
}

/// After a colon.
std::string remedy_text(const CableCheck& check) {
  const std::string thinnest = thinnest_text(check);
  return thinnest.empty() ? "no size in the table would do (a shorter cable, less current in each "
                            "of several cables, or a higher voltage)"
                          : thinnest + " would do";
}

}  // namespace

std::vector<CableCheck> check_wiring(const Site& site, const Simulation& prepared) {
  require_valid(site);
  std::vector<CableCheck> checks;
  checks.reserve(site.wiring.size());
  for (const Cable& cable : site.wiring) checks.push_back(check_cable(site, prepared, cable));
  return checks;
}

std::string section_text(double section_mm2) {
  const Conductor* const conductor = conductor_of(section_mm2);
  const bool is_gauge = conductor != nullptr && conductor->standard == ConductorStandard::awg;
  return fmt::format("{:.3g} mm²{}", section_mm2,
                     is_gauge ? fmt::format(" ({} AWG)", conductor->size) : "");
}

std::string thinnest_text(const CableCheck& check) {
  if (check.thinnest_iec == nullptr) return "";
  return fmt::format(
      "{} mm²{}", check.thinnest_iec->size,
      check.thinnest_awg != nullptr ? fmt::format(" ({} AWG)", check.thinnest_awg->size) : "");
}

std::string drop_text(const CableCheck& check) {
  if (check.keeps_drop()) return "";
  std::string text = fmt::format(
      "{}: {} drops {:.1f} % of {:.3g} V at {:.3g} A, {:.3g} % wanted: {}.", check.cable.name,
      section_text(check.section_mm2), 100 * check.drop_share, check.voltage_v, check.current_a,
      100 * check.cable.max_drop_share, remedy_text(check));
  if (!check.pump_flow_share) return text;
  text += fmt::format(" {:.1f} V are left at its end", std::max(0.0, check.voltage_at_load_v()));
  if (check.start_current_a > check.current_a) {
    text += fmt::format(", {:.1f} V while it starts",
                        std::max(0.0, check.voltage_v * (1 - check.start_drop_share)));
  }
  return text + fmt::format("; a pump there gives about {:.0f} % of its flow.",
                            100 * *check.pump_flow_share);
}

std::string fuse_text(const CableCheck& check) {
  if (check.fuse_a) return "";
  const std::optional<double> wanted_a = blade_fuse_a(check.fuse_needed_a);
  if (!wanted_a) {
    return fmt::format(
        "{}: its fuse must be at least {:.3g} A, and blade fuses end at 40 A: a "
        "bolted fuse, on a cable that carries what it lets pass.",
        check.cable.name, check.fuse_needed_a);
  }
  return fmt::format(
      "{}: {} carries {:.3g} A, less than the {:g} A fuse that its current needs: "
      "{}.",
      check.cable.name, section_text(check.section_mm2), check.ampacity_a, *wanted_a,
      remedy_text(check));
}

}  // namespace amptally::inline v0_1
