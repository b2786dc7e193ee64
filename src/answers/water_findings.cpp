#include <algorithm>

#include <fmt/format.h>

#include "amptally/findings.hpp"
#include "amptally/weather.hpp"

#include "site/month_words.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr const char* kThisModel = "this water balance";

std::string field_of(std::size_t line, const char* member) {
  return fmt::format("water.lines[{}].{}", line, member);
}

void siphons(const Water& water, const WaterStudy& study, std::vector<Finding>& found) {
  for (std::size_t i = 0; i < study.lines.size(); ++i) {
    const LineStudy& line = study.lines[i];
    if (!line.siphon) continue;
    const bool has_pump = water.lines[i].pump.has_value();
    found.push_back(
        {FindingLevel::warning, "siphon", field_of(i, "valve"),
         fmt::format("{} {} From a full tank about {:.0f} L/h, {:.0f} L in a night, down to "
                     "{:.2f} m{}. An air break above the highest water level draws nothing; a "
                     "latching valve takes pulses only; a solenoid valve takes {:g} W while it is "
                     "open.",
                     line.name,
                     has_pump ? "runs on by itself when the pump stops: its outlets are below the "
                                "water."
                              : "runs until somebody closes it: its outlets are below the water, "
                                "and no valve is given.",
                     line.siphon->flow_l_h, line.siphon->night_l, line.siphon->until_m,
                     has_pump ? ", if the pump lets water through when it stands, as centrifugal "
                                "pumps do; diaphragm and peristaltic pumps hold it"
                              : "",
                     kSolenoid_w),
         has_pump ? "energy equation from water level to outlet, with the line's own friction and "
                    "an estimate of the pump's"
                  : "energy equation from water level to outlet, with the line's own friction"});
  }
}

void no_flow(const WaterStudy& study, std::vector<Finding>& found) {
  for (std::size_t i = 0; i < study.lines.size(); ++i) {
    const LineStudy& line = study.lines[i];
    if (line.no_flow == NoFlow::nothing_drives_it) {
      found.push_back({FindingLevel::warning, "nothing drives it", field_of(i, "pump"),
                       line.name + " has no pump, and its outlets are not below the water: no "
                                   "water comes. Give its pump, or a lift below 0.",
                       kThisModel});
    } else if (line.no_flow == NoFlow::nothing_sets_it) {
      found.push_back({FindingLevel::warning, "flow not known", field_of(i, "tube"),
                       line.name + " has neither tube nor outlets, which hold most of the water "
                                   "back: what it passes is not told. Give its tube, length and "
                                   "bore.",
                       kThisModel});
    }
  }
}

// A tank into which nothing comes by itself is as good as its filling.
void filled_by_hand(const TankStudy& tank, std::vector<Finding>& found) {
  if (!tank.days_to_empty) return;
  const auto month = kMonthNames[static_cast<std::size_t>(tank.days_to_empty_month)];
  found.push_back(
      {tank.holds() ? FindingLevel::note : FindingLevel::warning, "tank filled by hand",
       "water.tank",
       fmt::format("Neither roof nor refill fills the tank: a filling lasts {:.1f} days at the "
                   "least, in {}{} A "
                   "pump that runs dry is soon ruined: a float switch stops it in time.",
                   *tank.days_to_empty, month,
                   tank.holds() ? "." : ", less than the day that the lines ask for."),
       kThisModel});
}

void runs_dry(const WaterStudy& study, std::vector<Finding>& found) {
  if (!study.tank) return;
  if (study.tank->is_filled_by_hand) return filled_by_hand(*study.tank, found);
  if (study.tank->dry_days == 0) return;
  const Monthly& days = study.tank->dry_days_month;
  const auto worst = std::max_element(days.begin(), days.end());
  found.push_back(
      {FindingLevel::warning, "tank runs dry", "water.tank",
       fmt::format("On {} days of a mean year the lines ask more than the tank holds, "
                   "most in {} ({:.0f} days){}. A pump that runs dry is soon ruined: a "
                   "float switch stops it in time.",
                   study.tank->dry_days,
                   kMonthNames[static_cast<std::size_t>(worst - days.begin())], *worst,
                   study.tank->siphon_l > 0
                       ? fmt::format("; {:.0f} L a year siphon away at night", study.tank->siphon_l)
                       : ""),
       kThisModel});
}

void demand_unmet(const WaterStudy& study, std::vector<Finding>& found) {
  for (std::size_t i = 0; i < study.lines.size(); ++i) {
    const LineStudy& line = study.lines[i];
    if (line.meets_demand()) continue;
    const Monthly& minutes = *line.minutes_day;
    const auto worst = std::max_element(minutes.begin(), minutes.end());
    found.push_back(
        {FindingLevel::warning, "day too short", field_of(i, "demand"),
         fmt::format("{} would have to run {:.1f} h a day in {}: it passes {:.1f} L/h, "
                     "and {:.0f} L a day are asked.",
                     line.name, *worst / kMinutesPerHour,
                     kMonthNames[static_cast<std::size_t>(worst - minutes.begin())],
                     line.flow->flow_l_h,
                     (*line.demand_l_day)[static_cast<std::size_t>(worst - minutes.begin())]),
         kThisModel});
  }
}

void outlets_dry(const WaterStudy& study, std::vector<Finding>& found) {
  for (std::size_t i = 0; i < study.lines.size(); ++i) {
    const LineStudy& line = study.lines[i];
    const int dry = line.flow ? line.flow->dry_outlets() : 0;
    if (dry == 0) continue;
    found.push_back({FindingLevel::warning, "dry outlets", field_of(i, "tube"),
                     fmt::format("The tube of {} is too thin: the last {} of its {} outlets get no "
                                 "water. Feed it from the middle, or take a wider tube.",
                                 line.name, dry, line.flow->outlets_l_h.size()),
                     "step by step along the tube, Darcy-Weisbach"});
  }
}

// The lift and the two heights say the same thing twice where the level is known.
void lift_against_heights(const Water& water, std::vector<Finding>& found) {
  if (!water.tank || !water.tank->level_m) return;
  for (std::size_t i = 0; i < water.lines.size(); ++i) {
    const WaterLine& line = water.lines[i];
    if (!line.outlets) continue;
    constexpr double kSlack_m = 0.05;
    const double full_m = line.outlets->height_m - *water.tank->level_m;
    const double empty_m = line.outlets->height_m - water.tank->outlet_height_m.value_or(0);
    if (line.lift_m >= full_m - kSlack_m && line.lift_m <= empty_m + kSlack_m) continue;
    found.push_back({FindingLevel::warning, "lift and heights disagree", field_of(i, "lift"),
                     fmt::format("{} is said to lift {:g} m above the water, but by the heights "
                                 "its outlets are {:.2f} m above a full tank's water and {:.2f} m "
                                 "above an empty one's. The lift sets the pumped flow, the heights "
                                 "the siphon.",
                                 line.name, line.lift_m, full_m, empty_m),
                     "geometry"});
  }
}

// Months in which a line runs; all where it is not known.
MonthSet months_in_use(const LineStudy& line) {
  if (!line.minutes_day) return MonthSet().set();
  MonthSet months;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) months[m] = (*line.minutes_day)[m] > 0;
  return months;
}

void frost_in_lines(const Site& site, const WaterStudy& study, std::vector<Finding>& found) {
  // Chosen: in a month with less, most years have no frost.
  constexpr double kFrostyMonth_days = 0.5;
  const Monthly days = frost_days(site.place);
  MonthSet frosty;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) frosty[m] = days[m] >= kFrostyMonth_days;
  if (frosty.none()) return;
  MonthSet in_use;
  std::vector<std::string_view> names;
  for (const LineStudy& line : study.lines) {
    const MonthSet both = months_in_use(line) & frosty;
    if (both.none()) continue;
    in_use |= both;
    names.push_back(line.name);
  }
  const auto days_in = [&](const MonthSet& months) {
    double sum = 0;
    for (std::size_t m = 0; m < kMonthsPerYear; ++m) sum += months[m] ? days[m] : 0;
    return fmt::format("about {:.0f} {} of {}", std::max(1.0, sum), sum < 1.5 ? "day" : "days",
                       month_words(months));
  };
  constexpr const char* kSource = "the mean year's coldest hours and the spread of single days";
  if (names.empty()) {
    found.push_back(
        {FindingLevel::note, "frost in the line", "water.lines",
         fmt::format("On {} the air goes below 0 °C; ice bursts pumps, valves and tubes "
                     "that stand full. Nothing is asked of the lines then: drain them, "
                     "and the pumps, before the first frost, and leave the ends open.",
                     days_in(frosty)),
         kSource});
    return;
  }
  found.push_back({FindingLevel::warning, "frost in the line", "water.lines",
                   fmt::format("On {} the air goes below 0 °C while there is water in {}: ice "
                               "bursts pumps, valves and tubes. Drain them after each run, lay "
                               "them below the frost, or water by hand in those months.",
                               days_in(in_use), all_of(names)),
                   kSource});
}

void drinking_water(const Water& water, std::vector<Finding>& found) {
  if (!water.tank) return;
  const std::vector<double>& refill = water.tank->refill_l_month;
  if (std::none_of(refill.begin(), refill.end(), [](double litres) { return litres > 0; })) return;
  found.push_back(
      {FindingLevel::note, "drinking water", "water.tank.refill",
       "The tank is filled up from outside. If that is a drinking-water main, its pipe must end in "
       "the open, above the rim by twice its bore and at least 20 mm: a hose left in the tank is "
       "sucked back into the main when its pressure fails. The water supplier's rules and a "
       "licensed plumber have the last word.",
       "air gap of EN 1717, type AA, from memory"});
}

}  // namespace

std::vector<Finding> water_findings(const Site& site, const WaterStudy& study) {
  require_valid(site);
  std::vector<Finding> found;
  if (!site.water) return found;
  siphons(*site.water, study, found);
  no_flow(study, found);
  runs_dry(study, found);
  demand_unmet(study, found);
  outlets_dry(study, found);
  lift_against_heights(*site.water, found);
  frost_in_lines(site, study, found);
  drinking_water(*site.water, found);
  return found;
}

}  // namespace amptally::inline v0_1
