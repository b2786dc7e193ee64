#include "amptally/findings.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "amptally/load.hpp"
#include "amptally/water.hpp"

#include "answers/finding_rules.hpp"
#include "parts/electrical_limits.hpp"
#include "site/month_words.hpp"

namespace amptally::inline v0_1 {
namespace {

bool is_lead_acid(const Site& site) { return battery_type(site.battery.kind).is_lead_acid(); }

// ---- The books -------------------------------------------------------------------------------

std::optional<Finding> standby_above_loads(const Site& site, const Simulation& sim) {
  const YearBalance& year = sim.balance.year;
  const double standby_ah_day = year.standby_ah / kDaysPerYear;
  double loads_ah_day = 0;  // of their own: the year's use less standby may be less than nothing
  for (const double ah : sim.loads.load_ah) loads_ah_day += ah / kDaysPerYear;
  if (!(standby_ah_day > loads_ah_day) || standby_ah_day <= 0) return std::nullopt;
  return Finding{FindingLevel::warning, "standby draw", "regulator.standby",
                 fmt::format("The regulator's own {:.0f} mA take {:.2f} Ah a day, more than all "
                             "loads together ({:.2f} Ah). A regulator with a smaller standby draw "
                             "helps more than a larger panel.",
                             1000 * standby_current_a(site), standby_ah_day, loads_ah_day),
                 "amperes times 24 h"};
}

std::optional<Finding> thin_margin(const Site& site, const Simulation& sim) {
  const double rough = site.place.climate.uncertainty_share;
  if (site.place.climate.own_sun || rough <= 0) return std::nullopt;
  const auto& months = sim.balance.months;
  const auto worst = std::min_element(
      months.begin(), months.end(),
      [](const auto& a, const auto& b) { return a.balance_ah_day() < b.balance_ah_day(); });
  const double margin = worst->use_ah_day > 0 ? worst->balance_ah_day() / worst->use_ah_day : 1;
  if (!(margin >= 0 && margin < rough)) return std::nullopt;
  return Finding{
      FindingLevel::warning, "thin margin", "place.insolation",
      fmt::format("{} brings {:.0f} % more charge than it needs, but the shipped sun figures are "
                  "uncertain by {:.0f} %: it may as well fall short.",
                  kMonthNames[static_cast<std::size_t>(worst - months.begin())], 100 * margin,
                  100 * rough),
      "NASA Surface meteorology and Solar Energy release 6.0, methodology"};
}

std::optional<Finding> shade_takes(const Site&, const Simulation& sim) {
  double with = 0;
  double without = 0;
  for (const double v : sim.sun.plane_kwh_m2) with += v;
  for (const double v : sim.sun.open_plane_kwh_m2) without += v;
  constexpr double kWorthSaying = 0.03;  // chosen
  const double share = without > 0 ? 1 - with / without : 0;
  if (share < kWorthSaying) return std::nullopt;
  return Finding{
      FindingLevel::warning, "shade on the panel", "panel.shade",
      fmt::format("Shade takes {:.0f} % of the panel's sun over the year. Shade on part "
                  "of a panel can cost more than its area, since its cells are in a row.",
                  100 * share),
      kPractice};
}

// ---- Panel and regulator ---------------------------------------------------------------------

std::optional<Finding> panel_voltage_wasted(const Site& site, const Simulation& sim) {
  if (site.regulator.kind == RegulatorKind::mppt) return std::nullopt;
  // Common practice, no source: panels made for 12 V have their power at 17 to 18 V.
  constexpr double kFittingPanel = 1.45;
  constexpr double kUsualLoss = 0.30;  // a panel made for the battery's voltage loses 15-30 %
  const double lost_w = sim.offer.full_sun_panel_w - sim.offer.full_sun_w;
  if (!(lost_w > kUsualLoss * sim.offer.full_sun_panel_w)) return std::nullopt;
  return Finding{
      FindingLevel::warning, "panel voltage wasted", "regulator.kind",
      fmt::format(
          "At full sun the panel could give {:.0f} W, but {} holds it at the battery's "
          "{:.1f} V: {:.0f} W arrive, {:.0f} W are wasted. An MPPT regulator, or a panel of "
          "about {:.0f} V at maximum power, would bring most of it home.",
          sim.offer.full_sun_panel_w,
          site.regulator.kind == RegulatorKind::pwm ? "a PWM regulator" : "the direct wire",
          charging_voltage_v(site.battery), sim.offer.full_sun_w, lost_w,
          kFittingPanel * site.battery.bank_voltage_v()),
      kPractice};
}

std::optional<Finding> hot_panel_too_low(const Site& site, const Simulation& sim) {
  if (site.panel.power_w <= 0 || site.regulator.kind == RegulatorKind::mppt) return std::nullopt;
  const double hottest_air_c =
      *std::max_element(sim.sun.air_temp_c.begin(), sim.sun.air_temp_c.end());
  const double cell_c = cell_temp_c(hottest_air_c, kLabelSun_w_m2, site.panel.noct_c);
  const double hot_v = hot_string_v(site, sim.rating, cell_c);
  const double wanted_v = absorption_voltage_v(site);
  if (hot_v >= wanted_v) return std::nullopt;
  return Finding{FindingLevel::warning, "hot panel below battery voltage", "panel.vmp",
                 fmt::format("With cells at {:.0f} °C the panel has its power at {:.1f} V, below "
                             "the {:.1f} V that finish charging: on hot days the battery does not "
                             "fill.",
                             cell_c, hot_v, wanted_v),
                 "cell temperature by NOCT, Duffie & Beckman section 23.3"};
}

std::optional<Finding> charging_ends_early(const Site& site, const Simulation&) {
  const double filled = filled_share(site);
  if (filled >= 1) return std::nullopt;
  const double usual_v =
      battery_type(site.battery.kind).absorption_cell_v * bank_cells(site.battery);
  return Finding{
      FindingLevel::warning, "charging ends early", "regulator.absorption",
      fmt::format(
          "Held at {:.1f} V, this battery comes to {:.0f} % of its charge and no further; its kind "
          "is charged to {:.1f} V.",
          *site.regulator.absorption_v, 100 * filled, usual_v),
      "resting voltage by charge, docs/model.md"};
}

std::optional<Finding> charging_voltage_high(const Site& site, const Simulation&) {
  if (!site.regulator.absorption_v) return std::nullopt;
  const BatteryType& type = battery_type(site.battery.kind);
  const double highest_v = type.highest_charge_cell_v * bank_cells(site.battery);
  const double given_v = *site.regulator.absorption_v;
  if (given_v <= highest_v + 1e-9) return std::nullopt;
  return Finding{
      FindingLevel::danger, "charging voltage too high", "regulator.absorption",
      fmt::format("{:.1f} V is more than the {:.1f} V that {} is charged with at most: {}.",
                  given_v, highest_v, type.label,
                  type.is_lead_acid() ? "it gases, dries out and can heat up"
                                      : "its cells are damaged and can catch fire"),
      "charging voltages on datasheets, data/batteries.json"};
}

std::optional<Finding> cold_voltage(const Site& site, const Simulation& sim) {
  if (!site.regulator.max_panel_voltage_v || site.panel.power_w <= 0) return std::nullopt;
  const double limit_v = *site.regulator.max_panel_voltage_v;
  const double cold_v = cold_string_v(site, sim.rating);
  if (cold_v <= limit_v) return std::nullopt;
  return Finding{FindingLevel::danger, "cold panel voltage", "regulator.max_panel_voltage",
                 fmt::format("At {} the panels reach {:.1f} V open-circuit, above the regulator's "
                             "{:.0f} V: it can be destroyed. Put fewer in series.",
                             record_low_words(site), cold_v, limit_v),
                 "NEC 690.7 and the panel's own coefficient, the higher of the two"};
}

std::optional<Finding> panel_current(const Site& site, const Simulation& sim) {
  if (!site.regulator.max_current_a || site.panel.power_w <= 0) return std::nullopt;
  const double limit_a = *site.regulator.max_current_a;
  if (site.regulator.kind == RegulatorKind::mppt) {
    constexpr double kWorthSaying = 0.01;  // chosen
    if (sim.offer.clipped_ah < kWorthSaying * sim.balance.year.charge_ah) return std::nullopt;
    return Finding{
        FindingLevel::note, "regulator current limit", "regulator.max_current",
        fmt::format("The panels could charge with more than the regulator's {:.0f} A: it "
                    "cuts off {:.0f} Ah a year.",
                    limit_a, sim.offer.clipped_ah),
        "this balance"};
  }
  const double isc_a = short_circuit_a(site, sim.rating);
  if (kBrightClouds * isc_a <= limit_a) return std::nullopt;
  return Finding{
      isc_a > limit_a ? FindingLevel::danger : FindingLevel::warning,
      "panel current above regulator", "regulator.max_current",
      fmt::format("The panels' short-circuit current is {:.1f} A, {:.1f} A with the usual "
                  "quarter on top for bright clouds; the regulator takes {:.0f} A.",
                  isc_a, kBrightClouds * isc_a, limit_a),
      "NEC 690.8(A): 1.25 times the short-circuit current"};
}

std::optional<Finding> no_regulator(const Site& site, const Simulation& sim) {
  if (site.regulator.kind != RegulatorKind::none) return std::nullopt;
  const double most_a = *std::max_element(sim.offer.current_a.begin(), sim.offer.current_a.end());
  return Finding{FindingLevel::danger, "no regulator", "regulator.kind",
                 fmt::format("Nothing stops {:.1f} A from flowing into a full battery: it gases, "
                             "dries out and can burn. Without a blocking diode it also runs back "
                             "through the panel at night.",
                             most_a),
                 kPractice};
}

std::optional<Finding> no_cutoff(const Site& site, const Simulation&) {
  if (site.regulator.cutoff || site.loads.empty()) return std::nullopt;
  return Finding{
      FindingLevel::warning, "no cutoff", "regulator.cutoff",
      fmt::format("Nothing disconnects the loads when the battery runs low: one dull week "
                  "or a stuck valve empties it, and {}. A regulator with a load output, "
                  "or a low-voltage cutoff, protects it.",
                  is_lead_acid(site) ? "a lead battery left empty is soon lost"
                                     : "lithium cells must not be drained flat"),
      kPractice};
}

// The smallest current that any load draws.
double least_draw_a(const LoadProfile& loads) {
  double least = largest_draw_a(loads);
  for (const double draw_a : loads.draws_a) {
    if (draw_a > 0) least = std::min(least, draw_a);
  }
  return least;
}

std::optional<Finding> cutoff_below_floor(const Site& site, const Simulation& sim) {
  if (!site.regulator.cutoff) return std::nullopt;
  const double floor_charge = 1 - sim.balance.aim.floor_share;
  // The lighter the draw, the deeper it goes before the voltage falls.
  const double draw_a = least_draw_a(sim.loads);
  const double cutoff = 1 - drawable_share(site, draw_a);
  if (cutoff >= floor_charge - 0.005) return std::nullopt;
  return Finding{
      FindingLevel::note, "cutoff below the floor", "regulator.cutoff",
      fmt::format(
          "While {:.2g} A flow the cutoff acts at about {:.0f} % of charge, the floor is at "
          "{:.0f} %: the battery may go deeper than you allow before the loads are cut "
          "off.",
          draw_a, 100 * cutoff, 100 * floor_charge),
      "discharging voltage, docs/model.md"};
}

// ---- Battery ---------------------------------------------------------------------------------

std::optional<Finding> printed_capacity(const Site& site, const Simulation& sim) {
  if (!is_lead_acid(site)) return std::nullopt;
  const Battery& battery = site.battery;
  const double rated_a = battery.bank_capacity_ah() / battery.rated_hours;
  const double load_a = largest_draw_a(sim.loads);
  if (load_a <= rated_a) return std::nullopt;
  return Finding{
      FindingLevel::note, "printed amp-hours", "battery.rated_hours",
      fmt::format("{:.0f} Ah belong to a {:.0f}-hour rate ({:.2f} A). The loads take up to "
                  "{:.2f} A at once; held at that, the battery gives {:.1f} Ah.",
                  battery.bank_capacity_ah(), battery.rated_hours, rated_a, load_a,
                  battery.bank_capacity_ah() * rate_factor(battery, load_a)),
      battery.peukert ? "Peukert's relation in rated-hour form" : "datasheets, docs/model.md"};
}

std::optional<Finding> charge_current(const Site& site, const Simulation& sim) {
  const Battery& battery = site.battery;
  const BatteryType& type = battery_type(battery.kind);
  const bool own = battery.max_charge_current_a.has_value();
  const double limit_a = charge_limit_a(battery);
  const double most_a = *std::max_element(sim.offer.current_a.begin(), sim.offer.current_a.end());
  if (most_a <= limit_a) return std::nullopt;
  return Finding{
      FindingLevel::warning, "charge current", "battery.max_charge_current",
      fmt::format("The panels charge with up to {:.1f} A; {} {:.1f} A{}. More heats and "
                  "wears it.",
                  most_a, own ? "the battery takes" : "a battery of this kind takes about", limit_a,
                  own ? "" : fmt::format(" ({:.2f} A per Ah)", type.max_charge_c)),
      own ? "the battery's own limit" : "usual datasheet of this type, data/batteries.json"};
}

std::optional<Finding> floor_passed(const Site& site, const Simulation& sim) {
  const YearBalance& year = sim.balance.year;
  if (year.floor_days <= 0) return std::nullopt;
  const std::string days = year.floor_days < 9.5 ? fmt::format("{:.2g}", year.floor_days)
                                                 : fmt::format("{:.0f}", year.floor_days);
  const double floor = sim.balance.aim.floor_share;
  // Of many years the middle one, as the table of how they differ has it. It may stay above a floor
  // that few of them pass.
  const auto& spread = sim.balance.spread;
  const double deepest = spread ? spread->deepest_discharge.p50 : year.deepest_discharge;
  const double depth = std::max(floor, deepest);
  const bool own = !site.battery.cycles.empty();
  return Finding{
      FindingLevel::warning, "floor passed", "battery.floor",
      fmt::format("On {} {} a year more than {:.0f} % is taken out of the battery; the {} "
                  "deepest is {:.0f} %. {} At {:.0f} % it lasts about {:.0f} cycles.",
                  // By the figure as it is shown: 1.04 days read "1 day".
                  days, days == "1" ? "day" : "days", 100 * floor,
                  spread ? "middle year's" : "year's", 100 * deepest,
                  is_lead_acid(site)
                      ? "A lead battery that stays low sulphates: it loses capacity for good."
                      : "Deep cycles wear it sooner.",
                  100 * depth, cycles_at_depth(site.battery, depth)),
      own ? "the battery's own cycle curve"
          : "usual cycle curve of this type, data/batteries.json"};
}

std::string years_words(double years) {
  return years < 10 ? fmt::format("{:.1f}", years) : fmt::format("{:.0f}", years);
}

std::optional<Finding> battery_wear(const Site& site, const Simulation& sim) {
  const Life& life = sim.balance.life;
  if (!life.worn_by_depth || life.years <= 0) return std::nullopt;
  constexpr double kSoon_years = 2;
  return Finding{
      life.years < kSoon_years ? FindingLevel::warning : FindingLevel::note, "battery life",
      "battery.capacity",
      fmt::format(
          "Its daily cycles (on average {:.0f} % deep) wear the battery out in about {} years. "
          "Half as deep, in a battery twice as large, it would last about {} years{}. "
          "Indicative only: makes differ by a factor of two.",
          100 * sim.balance.year.mean_daily_discharge, years_words(life.years),
          years_words(life.half_depth_years),
          life.half_depth_years >= life.by_age_years ? ", as long as it keeps" : ""),
      site.battery.cycles.empty()
          ? "rainflow count (ASTM E1049-85), Miner's sum, usual cycle curve of this type"
          : "rainflow count (ASTM E1049-85), Miner's sum, the battery's own cycle curve"};
}

std::optional<Finding> does_not_recover(const Site&, const Simulation& sim) {
  const double share = sim.balance.sinks_share_a_year;
  if (share <= 0) return std::nullopt;
  return Finding{FindingLevel::warning, "does not recover", "panel.power",
                 fmt::format("The battery ends each year {:.0f} % lower than the last, until it is "
                             "down: over the year less comes in than goes out.",
                             100 * share),
                 "this balance"};
}

std::optional<Finding> lithium_cold(const Site& site, const Simulation& sim) {
  if (battery_type(site.battery.kind).charges_in_frost) return std::nullopt;
  int frozen_h = 0;
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    frozen_h += sim.sun.air_temp_c[h] < 0 && sim.offer.current_a[h] > 0;
  }
  if (frozen_h == 0 && record_low_c(site) >= 0) return std::nullopt;
  return Finding{
      FindingLevel::danger, "lithium below freezing", "battery.kind",
      fmt::format("Lithium cells must not be charged below 0 °C: it ruins them for "
                  "good and can make them unsafe. {} Keep the battery warm, or see that "
                  "its protection blocks charging in the cold.",
                  frozen_h > 0 ? fmt::format("A mean year has {} hours of sun in frost; they are "
                                             "counted as lost.",
                                             frozen_h)
                               : fmt::format("The mean year stays above, but count on {}.",
                                             record_low_words(site))),
      "typical lithium iron phosphate pack datasheet: charge from 0 °C"};
}

// Freezing point of the acid by state of charge: US Army TM 10-6140-200-14, Table 1-1;
// empty (specific gravity 1.10) from memory of a trade table.
constexpr std::array<std::pair<double, double>, 5> kAcidFreezes_c = {
    {{0.0, -7.8}, {0.25, -17.2}, {0.50, -35.0}, {0.75, -52.2}, {1.0, -70.6}}};

std::optional<Finding> acid_freezes(const Site& site, const Simulation& sim) {
  if (!is_lead_acid(site)) return std::nullopt;
  const double lowest = 1 - sim.balance.year.deepest_discharge;
  const double freezes_c = interpolate(kAcidFreezes_c, lowest);
  const double low_c = record_low_c(site);
  if (low_c >= freezes_c) return std::nullopt;
  return Finding{
      FindingLevel::warning, "acid can freeze", "battery.floor",
      fmt::format("A lead battery down to {:.0f} % of charge freezes and bursts at about "
                  "{:.0f} °C; count on {}.",
                  100 * lowest, freezes_c, record_low_words(site)),
      "US Army TM 10-6140-200-14, Table 1-1"};
}

std::optional<Finding> lithium_cutoff_in_volts(const Site& site, const Simulation& sim) {
  const auto& cutoff = site.regulator.cutoff;
  if (is_lead_acid(site) || !cutoff || cutoff->unit != Threshold::Unit::volts) return std::nullopt;
  // Chosen: cells differ, and a regulator measures, by so much in 12 V.
  constexpr double kError_share = 0.1 / 12;
  const auto acts_at = [&](double volts) {
    Site other = site;
    other.regulator.cutoff->value = volts;
    return std::max(1 - drawable_share(other, largest_draw_a(sim.loads)), 0.0);  // no -0
  };
  return Finding{FindingLevel::note, "cutoff in volts", "regulator.cutoff",
                 fmt::format("A lithium battery's voltage hardly moves until it is empty: {:.1f} V "
                             "is read as {:.0f} % of charge, and with an error of 0.1 V in 12 acts "
                             "anywhere between {:.0f} and {:.0f} %.",
                             cutoff->value, 100 * sim.load_switch.cutoff_share,
                             100 * acts_at(cutoff->value * (1 - kError_share)),
                             100 * acts_at(cutoff->value * (1 + kError_share))),
                 "resting voltage curve, data/batteries.json (from memory)"};
}

std::optional<Finding> load_without_a_day(const Site& site, const Simulation&) {
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    const Load& load = site.loads[i];
    if (has_a_day(load)) continue;
    return Finding{
        FindingLevel::warning, "load never runs", fmt::format("loads[{}].months", i),
        fmt::format("\"{}\" runs on no day of the year: on day 1 and every {} days after "
                    "it, and none of these is in its months.",
                    load.name, load.every_days),
        "this balance"};
  }
  return std::nullopt;
}

// ---- Cautions that apply whatever the figures ------------------------------------------------

std::optional<Finding> battery_gas(const Site& site, const Simulation&) {
  if (!is_lead_acid(site)) return std::nullopt;
  const bool open = !battery_type(site.battery.kind).sealed;
  return Finding{open ? FindingLevel::warning : FindingLevel::note, "battery gas and acid",
                 "battery.kind",
                 fmt::format("{} Keep it ventilated and away from flames and sparks, and wear eye "
                             "protection. {}",
                             open ? "A flooded battery gives off hydrogen while charging and holds "
                                    "sulphuric acid."
                                  : "A sealed lead battery can vent hydrogen when overcharged, and "
                                    "holds acid.",
                             kDefer),
                 kPractice};
}

// Snow is not reckoned with: what a covered week costs is told where it can lie.
std::optional<Finding> snow_on_panel(const Site& site, const Simulation& sim) {
  // Common practice, no source: from so steep a panel snow slides off by itself.
  constexpr double kSlidesFrom_deg = 60;
  // Chosen: of a month that is colder, most of what falls is snow, and it stays.
  constexpr double kSnowy_c = -2;
  constexpr int kWeek_d = 7;
  constexpr double kNothing_ah = 1e-6;
  if (site.panel.tilt_deg >= kSlidesFrom_deg) return std::nullopt;
  MonthSet snowy;
  std::size_t costly = kMonthsPerYear;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    const MonthBalance& month = sim.balance.months[m];
    const double loads_ah_day = month.use_ah_day - kHoursPerDay * standby_current_a(site);
    if (site.place.air_temp_c[m] >= kSnowy_c || !(loads_ah_day > kNothing_ah)) continue;
    snowy.set(m);
    if (costly == kMonthsPerYear ||
        month.autonomy_days < sim.balance.months[costly].autonomy_days) {
      costly = m;
    }
  }
  if (snowy.none()) return std::nullopt;
  const MonthBalance& month = sim.balance.months[costly];
  const bool bridged = month.autonomy_days >= kWeek_d;
  return Finding{
      bridged ? FindingLevel::note : FindingLevel::warning, "snow on the panel", "panel.tilt",
      fmt::format("In {} it is below {:g} °C in the mean, and snow stays on a panel flatter than "
                  "{:g}°. Nothing of it is in the figures. A covered week in {} brings {:.0f} Ah "
                  "less; the battery bridges {:.1f} days of use then{} Mount the panel {:g}° or "
                  "steeper, sweep it, or leave loads out in those months (loads[].months).",
                  month_words(snowy), kSnowy_c, kSlidesFrom_deg, kMonthNames[costly],
                  kWeek_d * month.charge_ah_day, month.autonomy_days,
                  bridged ? "." : ", less than the week.", kSlidesFrom_deg),
      kPractice};
}

constexpr FindingRule kRules[] = {
    cold_voltage,         charging_voltage_high,
    no_regulator,         lithium_cold,
    panel_current,        standby_above_loads,
    panel_voltage_wasted, charge_current,
    floor_passed,         does_not_recover,
    battery_wear,         no_cutoff,
    hot_panel_too_low,    charging_ends_early,
    load_without_a_day,   thin_margin,
    shade_takes,          acid_freezes,
    battery_gas,          printed_capacity,
    cutoff_below_floor,   lithium_cutoff_in_volts,
    snow_on_panel,
};

}  // namespace

std::vector<Finding> site_findings(const Site& site, const Simulation& simulation) {
  require_valid(site);
  std::vector<Finding> found = input_findings(site);
  for (Finding& finding : found_by(kRules, site, simulation)) found.push_back(std::move(finding));
  for (Finding& finding : water_findings(site, study_water(site)))
    found.push_back(std::move(finding));
  for (Finding& finding : wiring_findings(site, simulation)) found.push_back(std::move(finding));
  // Each list is sorted in itself; within a level the site's own findings stay before those of its
  // water and wiring.
  std::ranges::stable_sort(found, {}, &Finding::level);
  return found;
}

}  // namespace amptally::inline v0_1
