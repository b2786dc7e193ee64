#include "amptally/water.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/sun.hpp"
#include "amptally/validate.hpp"
#include "amptally/weather.hpp"

#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "water/siphon.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr double kMjPerKwh = 3.6;
constexpr double kMmPerMj = 0.408;  // FAO-56 eq. 20: mm of water that 1 MJ/m2 evaporates

// Inner diameters of tube in trade, mm. Common practice, no source.
constexpr std::array kUsualBores_mm = {3.0,  4.0,  6.0,  9.0,  13.0, 16.0,
                                       20.0, 25.0, 32.0, 40.0, 50.0};
// Chosen: a wider tube that does not pass a tenth more is not worth a word.
constexpr double kWorthSaying = 1.1;

template <class Value>
Monthly each_month(Value value) {
  Monthly out{};
  for (std::size_t m = 0; m < out.size(); ++m) out[m] = value(m);
  return out;
}

const WaterLine& line_named(const Site& site, const std::string& name, const std::string& field) {
  if (site.water) {
    for (const WaterLine& line : site.water->lines) {
      if (line.name == name) return line;
    }
  }
  throw InputError(field, fmt::format("{} is not the name of a water line", in_quotes(name)));
}

bool runs_by(const Load& load, const WaterLine& line) {
  const auto* from = std::get_if<FromWater>(&load.schedule);
  return from != nullptr && from->line == line.name;
}

// The load that draws most of those that run by a line, its pump, or null.
const Load* load_of(const Site& site, const WaterLine& line) {
  const double volts = site.battery.bank_voltage_v();
  const Load* strongest = nullptr;
  double strongest_a = -1;
  for (const Load& load : site.loads) {
    const double current_a = load.draw.current_a(volts) * load.count;
    if (!runs_by(load, line) || current_a <= strongest_a) continue;
    strongest = &load;
    strongest_a = current_a;
  }
  return strongest;
}

// Months in which any load runs by the line; all, if none does: then it runs by other means.
MonthSet months_of(const Site& site, const WaterLine& line) {
  MonthSet months;
  for (const Load& load : site.loads) {
    if (runs_by(load, line)) months |= load.months;
  }
  return months.any() ? months : MonthSet().set();
}

// Amp-hours a day of the loads that run by a line, in their months, and of its valve.
std::optional<Monthly> line_use_ah_day(const Site& site, const WaterLine& line,
                                       const Monthly& minutes_day) {
  const double volts = site.battery.bank_voltage_v();
  Monthly current_a{};
  for (const Load& load : site.loads) {
    if (!runs_by(load, line)) continue;
    for (std::size_t m = 0; m < current_a.size(); ++m) {
      if (load.months.test(m)) current_a[m] += load.draw.current_a(volts) * load.count;
    }
  }
  // The valve is no load of the site file, but draws as long as the line runs.
  if (line.valve == SiphonValve::solenoid) {
    for (double& month_a : current_a) month_a += kSolenoid_w / volts;
  }
  if (std::all_of(current_a.begin(), current_a.end(), [](double a) { return a <= 0; })) {
    return std::nullopt;
  }
  return each_month([&](std::size_t m) {
    return current_a[m] * std::min<double>(minutes_day[m], kMinutesPerDay) / kMinutesPerHour;
  });
}

std::optional<WiderTube> wider_tube(const WaterLine& line, const LineFlow& now,
                                    double viscosity_m2_s) {
  if (!line.tube) return std::nullopt;
  const auto* next =
      std::upper_bound(kUsualBores_mm.begin(), kUsualBores_mm.end(), line.tube->bore_mm);
  if (next == kUsualBores_mm.end()) return std::nullopt;
  WaterLine wider = line;
  wider.tube->bore_mm = *next;
  const double flow_l_h = line_flow(wider, line.lift_m, Drive::pump, viscosity_m2_s).flow_l_h;
  if (flow_l_h < kWorthSaying * now.flow_l_h) return std::nullopt;
  return WiderTube{*next, flow_l_h};
}

LineStudy study_line(const Site& site, const WaterLine& line,
                     const std::optional<SiphonFlow>& siphon) {
  LineStudy study{.name = line.name};
  // One flow stands for the year; `line_minutes_day` takes each month's own temperature.
  study.water_temp_c = year_mean(water_temp_c(site.place));
  const double viscosity_m2_s = water_viscosity_m2_s(study.water_temp_c);
  if (siphon) study.siphon = night_from_full(*site.water->tank, *siphon);
  const MonthSet months = months_of(site, line);
  const auto in_season = [&](Monthly all) {
    return each_month([&](std::size_t m) { return months.test(m) ? all[m] : 0; });
  };
  if (const auto demand = line_demand_l_day(site.place, line)) {
    study.demand_l_day = in_season(*demand);
  }
  study.no_flow = why_no_flow(line);
  if (study.no_flow) return study;
  study.flow = line_flow(line, line.lift_m, Drive::pump, viscosity_m2_s);
  study.wider = wider_tube(line, *study.flow, viscosity_m2_s);
  if (!study.demand_l_day) return study;
  study.minutes_day = in_season(line_minutes_day(site.place, line));
  study.use_ah_day = line_use_ah_day(site, line, *study.minutes_day);
  return study;
}

// What a line takes from the tank: its demand, or what it passes in a whole day.
Monthly served_l_day(const LineStudy& line) {
  if (!line.demand_l_day || line.no_flow == NoFlow::nothing_drives_it) return {};
  return each_month([&](std::size_t m) {
    const double minutes = line.minutes_day ? (*line.minutes_day)[m] : 0;
    const double served_share = minutes > kMinutesPerDay ? kMinutesPerDay / minutes : 1;
    return (*line.demand_l_day)[m] * served_share;
  });
}

std::string tank_assumption(const TankStudy& tank) {
  return tank.is_filled_by_hand ? "The tank has straight sides."
                                : "The tank has straight sides, and each month's rain and refill "
                                  "come evenly over its days.";
}

std::vector<Assumption> assumptions(const Site& site, const WaterStudy& study) {
  std::vector<Assumption> said;
  // What the site's file left open: the roof's runoff, rain and warmth of the shipped table.
  std::copy_if(site.assumptions.begin(), site.assumptions.end(), std::back_inserter(said),
               [](const Assumption& assumption) {
                 return assumption.kind == AssumptionKind::water ||
                        assumption.kind == AssumptionKind::shipped_climate;
               });
  const auto say = [&](std::string text) {
    said.push_back({AssumptionKind::water, std::move(text)});
  };
  const Water& water = *site.water;
  if (std::any_of(study.lines.begin(), study.lines.end(), [](const auto& l) { return l.flow; })) {
    say("Water as warm as the month's air, from 1 to 40 °C. The pump's curve is a parabola "
        "through its two printed figures.");
  }
  for (std::size_t i = 0; i < water.lines.size(); ++i) {
    const WaterLine& line = water.lines[i];
    if (const auto* crop = line.demand ? std::get_if<CropDemand>(&*line.demand) : nullptr) {
      say(fmt::format(
          "{}: {} needs {:g} times what reference grass does, as in mid-season all year; rain is "
          "not taken off.",
          line.name, crop->crop, find_crop(crop->crop)->kc_mid));
    }
    if (load_of(site, line) == nullptr && line.demand) {
      say(
          fmt::format("{}: no load is said to run for it (from_water), so its pump's draw "
                      "is not told here.",
                      line.name));
    }
    if (!line.demand) say(line.name + ": no demand given, so it takes nothing.");
    const LineStudy& found = study.lines[i];
    if (found.flow && !line.tube) {
      say(line.name +
          ": no tube given, so its friction is left out: it passes no more than is told.");
    }
    if (found.flow && !line.outlets) {
      say(line.name + ": no outlets given, so its tube ends open.");
    }
    if (found.siphon && line.pump) {
      say(fmt::format(
          "{}: its pump is taken to let water through when it stands, as centrifugal pumps do, "
          "against what its two printed figures have it lose inside. One that holds the water, as "
          "diaphragm and peristaltic pumps do, is written with an air break as its valve.",
          line.name));
    }
    if (line.valve == SiphonValve::solenoid) {
      say(fmt::format("{}: its solenoid valve takes {:g} W while it is open.", line.name,
                      kSolenoid_w));
    }
  }
  if (study.tank) say(tank_assumption(*study.tank));
  return said;
}

}  // namespace

const Crop* find_crop(std::string_view name) {
  for (const Crop& crop : crops()) {
    if (std::equal(name.begin(), name.end(), crop.name.begin(), crop.name.end(),
                   [](char a, char b) { return lower(a) == b; })) {
      return &crop;
    }
  }
  return nullptr;
}

double reference_evapotranspiration_mm_day(double mean_c, double swing_c,
                                           double extraterrestrial_kwh_m2_day) {
  const double sun_mm = kMmPerMj * kMjPerKwh * extraterrestrial_kwh_m2_day;
  return std::max(0.0, 0.0023 * (mean_c + 17.8) * std::sqrt(swing_c) * sun_mm);
}

Monthly reference_evapotranspiration_mm_day(const Place& place) {
  return each_month([&](std::size_t m) {
    const double top = extraterrestrial_month_kwh_m2_day(place.latitude_deg, static_cast<int>(m));
    const double clearness = top > 0 ? place.sun_horizontal_kwh_m2_day[m] / top : 0;
    return reference_evapotranspiration_mm_day(place.air_temp_c[m], air_swing_c(clearness), top);
  });
}

std::optional<Monthly> line_demand_l_day(const Place& place, const WaterLine& line) {
  if (!line.demand) return std::nullopt;
  if (const auto* plants = std::get_if<PlantDemand>(&*line.demand)) {
    return each_month([&](std::size_t) { return plants->plants * plants->each_l; });
  }
  if (const auto* day = std::get_if<DailyVolume>(&*line.demand)) {
    return each_month([&](std::size_t) { return day->litres; });
  }
  const auto& demand = std::get<CropDemand>(*line.demand);
  const Crop* crop = find_crop(demand.crop);
  if (crop == nullptr) {
    throw InputError("water.lines", fmt::format("line {}: {} is not a crop of the list",
                                                in_quotes(line.name), in_quotes(demand.crop)));
  }
  const Monthly et0 = reference_evapotranspiration_mm_day(place);
  return each_month([&](std::size_t m) { return crop->kc_mid * et0[m] * demand.area_m2; });
}

Monthly water_temp_c(const Place& place) {
  return each_month([&](std::size_t m) { return std::clamp(place.air_temp_c[m], 1.0, 40.0); });
}

Monthly line_minutes_day(const Place& place, const WaterLine& line) {
  const std::optional<Monthly> demand = line_demand_l_day(place, line);
  if (!demand) {
    throw InputError("water.lines",
                     fmt::format("line {} has no demand, which sets its minutes (give demand)",
                                 in_quotes(line.name)));
  }
  const std::optional<NoFlow> no_flow = why_no_flow(line);
  if (no_flow == NoFlow::nothing_drives_it) {
    throw InputError("water.lines",
                     fmt::format("line {} has no pump, which sets its minutes (give pump)",
                                 in_quotes(line.name)));
  }
  if (no_flow == NoFlow::nothing_sets_it) {
    throw InputError("water.lines",
                     fmt::format("line {} has neither tube nor outlets, which set its minutes "
                                 "(give tube, its length and bore)",
                                 in_quotes(line.name)));
  }
  const Monthly temp_c = water_temp_c(place);
  return each_month([&](std::size_t m) {
    const double viscosity_m2_s = water_viscosity_m2_s(temp_c[m]);
    const double flow_l_h = line_flow(line, line.lift_m, Drive::pump, viscosity_m2_s).flow_l_h;
    return (*demand)[m] / flow_l_h * kMinutesPerHour;
  });
}

Monthly from_water_minutes_day(const Site& site, const Load& load, const std::string& field) {
  const std::string& name = std::get<FromWater>(load.schedule).line;
  const Monthly a_day = line_minutes_day(site.place, line_named(site, name, field));
  return each_month([&](std::size_t m) {
    // A day on which the line runs must bring what is asked for until it runs again.
    const double minutes = load.months.test(m) ? a_day[m] * load.every_days : 0;
    if (minutes > kMinutesPerDay) {
      throw InputError(
          field, fmt::format(
                     "line {} would have to run {:.1f} h {} in {} for its demand, more "
                     "than a day has (give it a wider tube, a stronger pump or less to "
                     "water)",
                     in_quotes(name), minutes / kMinutesPerHour,
                     load.every_days == 1 ? "a day" : fmt::format("every {} days", load.every_days),
                     kMonthNames[m]));
    }
    return minutes;
  });
}

std::vector<Load> valve_loads(const Site& site) {
  std::vector<Load> valves;
  if (!site.water) return valves;
  for (const WaterLine& line : site.water->lines) {
    if (line.valve != SiphonValve::solenoid || !line.demand || why_no_flow(line)) continue;
    Load valve{.name = "valve of " + line.name,
               .draw = {kSolenoid_w, Draw::Unit::watts},
               .schedule = FromWater{line.name}};
    if (const Load* pump = load_of(site, line)) {
      valve.months = months_of(site, line);
      valve.every_days = pump->every_days;
    }
    valves.push_back(std::move(valve));
  }
  return valves;
}

std::optional<NoFlow> why_no_flow(const WaterLine& line) {
  if (!line.pump && line.lift_m >= 0) return NoFlow::nothing_drives_it;
  if (!line.tube && !line.outlets) return NoFlow::nothing_sets_it;
  return std::nullopt;
}

bool LineStudy::meets_demand() const {
  return !minutes_day || std::all_of(minutes_day->begin(), minutes_day->end(),
                                     [](double minutes) { return minutes <= kMinutesPerDay; });
}

bool WaterStudy::holds() const {
  return (!tank || tank->holds()) && std::all_of(lines.begin(), lines.end(), [](const auto& line) {
           return line.flow && line.meets_demand();
         });
}

WaterStudy study_water(const Site& site) {
  require_valid(site);
  WaterStudy study;
  if (!site.water) return study;
  const std::optional<Tank>& tank = site.water->tank;
  const double viscosity_m2_s = water_viscosity_m2_s(year_mean(water_temp_c(site.place)));
  Monthly use_l_day{};
  std::vector<SeasonalSiphon> siphons;
  for (const WaterLine& line : site.water->lines) {
    const std::optional<SiphonFlow> siphon =
        tank ? SiphonFlow::of(*tank, line, viscosity_m2_s) : std::nullopt;
    study.lines.push_back(study_line(site, line, siphon));
    const Monthly served = served_l_day(study.lines.back());
    for (std::size_t m = 0; m < served.size(); ++m) use_l_day[m] += served[m];
    // Without a pump, somebody opens the line for its minutes, and so closes it too.
    if (siphon && line.pump) siphons.push_back({*siphon, months_of(site, line)});
  }
  if (tank) {
    const SiphonNights nights(*tank, siphons);
    NightLoss loss_l;
    if (!siphons.empty()) {
      loss_l = [&nights](std::size_t month, double content_l) {
        return nights.lost_l(month, content_l);
      };
    }
    study.tank = study_tank(site.place, *tank, use_l_day, loss_l);
  }
  study.assumptions = assumptions(site, study);
  return study;
}

}  // namespace amptally::inline v0_1
