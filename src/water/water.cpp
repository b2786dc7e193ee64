#include "amptally/water.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/sun.hpp"
#include "amptally/validate.hpp"
#include "amptally/weather.hpp"

#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr double kMjPerKwh = 3.6;
constexpr double kMmPerMj = 0.408;  // FAO-56 eq. 20: mm of water that 1 MJ/m2 evaporates
constexpr double kNight_h = 12;

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

bool is_driven(const WaterLine& line) {
  return line.pump || (line.lift_m < 0 && (line.tube || line.outlets));
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

// The first load that runs by a line, or null.
const Load* load_of(const Site& site, const WaterLine& line) {
  for (const Load& load : site.loads) {
    if (runs_by(load, line)) return &load;
  }
  return nullptr;
}

// Months in which any load runs by the line; all, if none does: then it runs by other means.
MonthSet months_of(const Site& site, const WaterLine& line) {
  MonthSet months;
  for (const Load& load : site.loads) {
    if (runs_by(load, line)) months |= load.months;
  }
  return months.any() ? months : MonthSet().set();
}

// Height of a line's outlets above the tank's floor, where it is known.
std::optional<double> outlet_height_m(const Tank& tank, const WaterLine& line) {
  if (line.outlets) return line.outlets->height_m;
  if (tank.level_m) return *tank.level_m + line.lift_m;
  return std::nullopt;
}

// Amp-hours a day of the loads that run by a line and of its valve.
std::optional<Monthly> line_use_ah_day(const Site& site, const WaterLine& line,
                                       const Monthly& minutes_day) {
  const double volts = site.battery.bank_voltage_v();
  double current_a = 0;
  for (const Load& load : site.loads) {
    if (runs_by(load, line)) current_a += load.draw.current_a(volts) * load.count;
  }
  // The valve is no load of the site file, but draws as long as the line runs.
  if (line.valve == SiphonValve::solenoid) current_a += kSolenoid_w / volts;
  if (current_a <= 0) return std::nullopt;
  return each_month([&](std::size_t m) {
    return current_a * std::min<double>(minutes_day[m], kMinutesPerDay) / kMinutesPerHour;
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

LineStudy study_line(const Site& site, const WaterLine& line) {
  LineStudy study{.name = line.name};
  // One flow stands for the year; `line_minutes_day` takes each month's own temperature.
  study.water_temp_c = year_mean(water_temp_c(site.place));
  const double viscosity_m2_s = water_viscosity_m2_s(study.water_temp_c);
  if (site.water->tank) study.siphon = line_siphon(*site.water->tank, line, viscosity_m2_s);
  const MonthSet months = months_of(site, line);
  const auto in_season = [&](Monthly all) {
    return each_month([&](std::size_t m) { return months.test(m) ? all[m] : 0; });
  };
  if (const auto demand = line_demand_l_day(site.place, line)) {
    study.demand_l_day = in_season(*demand);
  }
  if (!is_driven(line)) return study;
  study.flow = line_flow(line, line.lift_m, Drive::pump, viscosity_m2_s);
  study.wider = wider_tube(line, *study.flow, viscosity_m2_s);
  if (!study.demand_l_day) return study;
  study.minutes_day = in_season(line_minutes_day(site.place, line));
  study.use_ah_day = line_use_ah_day(site, line, *study.minutes_day);
  return study;
}

// What a line takes from the tank: its demand, or what it passes in a whole day.
Monthly served_l_day(const LineStudy& line) {
  if (!line.demand_l_day) return {};
  return each_month([&](std::size_t m) {
    const double minutes = line.minutes_day ? (*line.minutes_day)[m] : 0;
    const double served_share = minutes > kMinutesPerDay ? kMinutesPerDay / minutes : 1;
    return (*line.demand_l_day)[m] * served_share;
  });
}

std::vector<Assumption> assumptions(const Site& site, const WaterStudy& study) {
  std::vector<Assumption> said;
  const auto say = [&](std::string text) {
    said.push_back({AssumptionKind::water, std::move(text)});
  };
  const Water& water = *site.water;
  if (std::any_of(study.lines.begin(), study.lines.end(), [](const auto& l) { return l.flow; })) {
    say("Water as warm as the month's air, from 1 to 40 °C. The pump's curve is a parabola "
        "through its two printed figures.");
  }
  for (const WaterLine& line : water.lines) {
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
    if (line.valve == SiphonValve::solenoid) {
      say(fmt::format("{}: its solenoid valve takes {:g} W while it is open.", line.name,
                      kSolenoid_w));
    }
  }
  if (water.tank) {
    say("The tank has straight sides, and each month's rain and refill come evenly over its days.");
  }
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
  if (!is_driven(line)) {
    throw InputError("water.lines",
                     fmt::format("line {} has no pump, which sets its minutes (give pump)",
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
    if (line.valve != SiphonValve::solenoid || !line.demand || !is_driven(line)) continue;
    Load valve{.name = "valve of " + line.name,
               .draw = {kSolenoid_w, Draw::Unit::watts},
               .schedule = FromWater{line.name}};
    if (const Load* pump = load_of(site, line)) {
      valve.months = pump->months;
      valve.every_days = pump->every_days;
    }
    valves.push_back(std::move(valve));
  }
  return valves;
}

std::optional<Siphon> line_siphon(const Tank& tank, const WaterLine& line, double viscosity_m2_s) {
  const std::optional<double> outlet_m = outlet_height_m(tank, line);
  if (line.valve != SiphonValve::none || !tank.level_m || !outlet_m) return std::nullopt;
  if (!line.tube && !line.outlets) return std::nullopt;
  const double full_m = *tank.level_m;
  const double until_m = std::max({*outlet_m, tank.outlet_height_m.value_or(0), 0.0});
  if (!(until_m < full_m)) return std::nullopt;

  const auto flow_l_h = [&](double level_m) {
    const double lift_m = *outlet_m - level_m;
    // At the very end the equations would be solved for a flow of nothing.
    constexpr double kStill_m = 1e-6;
    if (level_m - until_m < kStill_m) return 0.0;
    return line_flow(line, lift_m, Drive::gravity, viscosity_m2_s).flow_l_h;
  };
  // The level falls by the flow at the middle of each step; twenty minutes are short against a
  // tank.
  constexpr int kSteps = 36;
  constexpr double kStep_h = kNight_h / kSteps;
  const double area_l_m = tank.volume_l / full_m;  // straight sides
  double level_m = full_m;
  for (int i = 0; i < kSteps && level_m > until_m; ++i) {
    const double middle_m = level_m - flow_l_h(level_m) / area_l_m * kStep_h / 2;
    level_m = std::max(until_m, level_m - flow_l_h(middle_m) / area_l_m * kStep_h);
  }
  return Siphon{
      .flow_l_h = flow_l_h(full_m), .until_m = until_m, .night_l = (full_m - level_m) * area_l_m};
}

bool LineStudy::meets_demand() const {
  return !minutes_day || std::all_of(minutes_day->begin(), minutes_day->end(),
                                     [](double minutes) { return minutes <= kMinutesPerDay; });
}

bool WaterStudy::holds() const {
  return (!tank || tank->dry_days == 0) &&
         std::all_of(lines.begin(), lines.end(), [](const auto& l) { return l.meets_demand(); });
}

WaterStudy study_water(const Site& site) {
  require_valid(site);
  WaterStudy study;
  if (!site.water) return study;
  Monthly use_l_day{};
  for (const WaterLine& line : site.water->lines) {
    study.lines.push_back(study_line(site, line));
    const Monthly served = served_l_day(study.lines.back());
    for (std::size_t m = 0; m < served.size(); ++m) use_l_day[m] += served[m];
  }
  if (site.water->tank) study.tank = study_tank(site.place, *site.water->tank, use_l_day);
  study.assumptions = assumptions(site, study);
  return study;
}

}  // namespace amptally::inline v0_1
