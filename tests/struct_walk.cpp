#include "struct_walk.hpp"

#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/findings.hpp"
#include "amptally/water.hpp"
#include "amptally/wiring.hpp"

#include "sites.hpp"

namespace amptally::testing {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr std::array kNumbers = {kNan, kInfinite, -kInfinite, -1.0, 0.0,   1.0,   0.5,
                                 50.0, 400.0,     1e9,        1e13, 1e300, 1e-300};
constexpr std::array kWholes = {
    0, -1, 1, 2, 3, 365, 1001, std::numeric_limits<int>::max(), std::numeric_limits<int>::min()};

/// Something that can be changed in a case, by a byte.
using Change = std::function<void(std::uint8_t)>;

/// All that can be changed in one case, which must outlive it.
class Changes {
 public:
  explicit Changes(Case& c) {
    add_place(c.site.place);
    add_panel(c.site.panel);
    add_regulator(c.site.regulator);
    add_battery(c.site.battery);
    for (Load& load : c.site.loads) add_load(load);
    list(c.site.loads);
    for (Cable& cable : c.site.wiring) add_cable(cable);
    list(c.site.wiring);
    if (c.site.water) add_water(*c.site.water);
    number(c.site.aim.autonomy_days);
    number(c.site.aim.shortfall_days);
    number(c.site.aim.floor_share);
    for (RoughInput& rough : c.site.rough) {
      word(rough.field);
      number(rough.low);
      number(rough.high);
      word(rough.unit);
    }
    add_weather(c.weather);
  }

  void apply(std::uint8_t which, std::uint8_t how) const { all_[which % all_.size()](how); }
  [[nodiscard]] std::size_t size() const { return all_.size(); }

 private:
  void number(double& value) {
    all_.push_back([&value](std::uint8_t how) { value = kNumbers[how % kNumbers.size()]; });
  }
  void number(std::optional<double>& value) {
    all_.push_back([&value](std::uint8_t how) {
      if (how % 16 == 15) {
        value.reset();
      } else {
        value = kNumbers[how % kNumbers.size()];
      }
    });
  }
  void number(int& value) {
    all_.push_back([&value](std::uint8_t how) { value = kWholes[how % kWholes.size()]; });
  }
  template <class Enum>
  void kind(Enum& value) {
    all_.push_back([&value](std::uint8_t how) {
      value = static_cast<Enum>(static_cast<std::int8_t>(how % 8) - 1);
    });
  }
  void word(std::string& value) {
    all_.push_back([&value](std::uint8_t how) {
      static const std::array kWords = {"",           "panel", "pump",         "nobody",
                                        "two\nlines", "bench", "loads[7].draw"};
      value = kWords[how % kWords.size()];
    });
  }
  void months(Monthly& values) {
    for (const std::size_t m : {std::size_t{0}, std::size_t{11}}) number(values[m]);
  }
  void set(MonthSet& value) {
    all_.push_back([&value](std::uint8_t how) { value = MonthSet(how); });
  }
  // A list cannot grow or shrink while its elements are pointed to: it does so at the end, those
  // inside another list's elements first.
  template <class Item>
  void list(std::vector<Item>& items, bool inside_another = false) {
    std::vector<std::function<void()>>& late = inside_another ? late_inside_ : late_;
    all_.push_back([&late, &items](std::uint8_t how) {
      late.push_back([&items, how] {
        if (items.empty()) return;
        if (how % 3 == 0) {
          items.clear();
        } else if (how % 3 == 1) {
          items.pop_back();
        } else {
          items.push_back(items.front());
        }
      });
    });
  }

  void add_place(Place& place) {
    number(place.latitude_deg);
    number(place.longitude_deg);
    months(place.sun_horizontal_kwh_m2_day);
    months(place.air_temp_c);
    months(place.rain_mm);
    number(place.elevation_m);
    number(place.utc_offset_h);
    number(place.albedo);
    number(place.record_low_c);
    number(place.day_spread_share);
  }
  void add_panel(Panel& panel) {
    number(panel.power_w);
    number(panel.count);
    number(panel.series);
    for (auto* label : {&panel.vmp_v, &panel.imp_a, &panel.voc_v, &panel.isc_a,
                        &panel.temp_coeff_power_pct_k, &panel.temp_coeff_voc_pct_k}) {
      number(*label);
    }
    number(panel.noct_c);
    number(panel.tilt_deg);
    number(panel.azimuth_deg);
    number(panel.losses_share);
    for (Obstacle& obstacle : panel.shade) {
      number(obstacle.azimuth_from_deg);
      number(obstacle.azimuth_to_deg);
      number(obstacle.elevation_deg);
      number(obstacle.blocks_share);
      set(obstacle.months);
    }
    list(panel.shade);
  }
  void add_threshold(std::optional<Threshold>& threshold) {
    all_.push_back([&threshold](std::uint8_t how) {
      threshold = Threshold{kNumbers[how % kNumbers.size()],
                            static_cast<Threshold::Unit>(how / kNumbers.size() % 4)};
    });
  }
  void add_draw(Draw& draw) {
    number(draw.value);
    kind(draw.unit);
  }
  void add_regulator(Regulator& regulator) {
    kind(regulator.kind);
    add_draw(regulator.standby);
    number(regulator.efficiency_share);
    number(regulator.max_current_a);
    number(regulator.max_panel_voltage_v);
    add_threshold(regulator.cutoff);
    add_threshold(regulator.reconnect);
    number(regulator.absorption_v);
  }
  void add_battery(Battery& battery) {
    kind(battery.kind);
    for (double* value : {&battery.voltage_v, &battery.capacity_ah, &battery.rated_hours,
                          &battery.floor_share, &battery.health_share}) {
      number(*value);
    }
    number(battery.parallel);
    number(battery.series);
    for (auto* value :
         {&battery.start_share, &battery.max_charge_current_a, &battery.peukert,
          &battery.self_discharge_pct_month, &battery.shelf_life_years, &battery.price}) {
      number(*value);
    }
    for (CyclePoint& point : battery.cycles) {
      number(point.depth_share);
      number(point.cycles);
    }
    list(battery.cycles);
  }
  void add_load(Load& load) {
    word(load.name);
    add_draw(load.draw);
    number(load.count);
    if (auto* const daily = std::get_if<PerDay>(&load.schedule)) {
      number(daily->minutes);
      kind(daily->when);
    } else if (auto* const runs = std::get_if<Runs>(&load.schedule)) {
      for (Run& run : runs->runs) {
        number(run.at_min);
        number(run.for_minutes);
      }
      list(runs->runs, true);
    } else if (auto* const from = std::get_if<FromWater>(&load.schedule)) {
      word(from->line);
    }
    set(load.months);
    number(load.every_days);
    number(load.start_factor);
    if (load.idle) add_draw(*load.idle);
  }
  void add_cable(Cable& cable) {
    word(cable.name);
    word(cable.feeds);
    number(cable.length_m);
    number(cable.section_mm2);
    number(cable.max_drop_share);
  }
  void add_water(Water& water) {
    Tank& tank = *water.tank;
    number(tank.volume_l);
    for (auto* value : {&tank.level_m, &tank.outlet_height_m, &tank.roof_m2, &tank.runoff_share}) {
      number(*value);
    }
    for (double& litres : tank.refill_l_month) number(litres);
    list(tank.refill_l_month);
    for (WaterLine& line : water.lines) {
      word(line.name);
      number(line.pump->flow_l_h);
      number(line.pump->head_m);
      number(line.lift_m);
      number(line.tube->length_m);
      number(line.tube->bore_mm);
      number(line.outlets->count);
      number(line.outlets->flow_l_h);
      number(line.outlets->at_m);
      number(line.outlets->exponent);
      number(line.outlets->height_m);
      add_demand(line);
      kind(line.valve);
    }
    list(water.lines);
  }
  void add_demand(WaterLine& line) {
    all_.push_back([&line](std::uint8_t how) {
      const double value = kNumbers[how % kNumbers.size()];
      switch (how / kNumbers.size() % 4) {
        case 0:
          line.demand.reset();
          break;
        case 1:
          line.demand = PlantDemand{kWholes[how % kWholes.size()], value};
          break;
        case 2:
          line.demand = CropDemand{value, how % 2 == 0 ? "tomato" : "nothing of the kind"};
          break;
        default:
          line.demand = DailyVolume{value};
      }
    });
  }
  void add_weather(WeatherChoice& weather) {
    kind(weather.mode);
    number(weather.years);
    number(weather.threads);
    all_.push_back([&weather](std::uint8_t how) {
      WeatherSeries series = *weather.series;
      switch (how % 6) {
        case 0:
          weather.series.reset();
          return;
        case 1:
          series.global_wh_m2.pop_back();
          break;
        case 2:
          series.global_wh_m2[how] = kNan;
          break;
        case 3:
          series.years = kWholes[how / 6 % kWholes.size()];
          break;
        case 4:
          series.lines.clear();
          break;
        default:
          series.hourly = true;
      }
      weather.series = std::make_shared<const WeatherSeries>(std::move(series));
    });
  }

 public:
  void finish() {
    for (const auto& change : late_inside_) change();
    for (const auto& change : late_) change();
  }

 private:
  std::vector<Change> all_;
  std::vector<std::function<void()>> late_inside_;
  std::vector<std::function<void()>> late_;
};

WeatherSeries plain_days() {
  WeatherSeries series;
  series.name = "plain days";
  series.path = "plain.csv";
  series.hourly = false;
  series.global_wh_m2.assign(kDaysPerYear, 4000.0);
  series.air_temp_c.assign(kDaysPerYear, 20.0);
  series.lines.assign(kDaysPerYear, 1);
  return series;
}

bool is_finite(const Balance& balance) {
  bool finite = true;
  const auto look = [&](double value) { finite = finite && std::isfinite(value); };
  const YearBalance& year = balance.year;
  for (const double value :
       {year.sun_horizontal_kwh_m2, year.sun_panel_kwh_m2, year.charge_ah, year.use_ah,
        year.standby_ah, year.deepest_discharge, year.mean_daily_discharge, year.floor_days,
        year.shortfall_days, year.shortfall_wh, year.served_share, year.battery_life_years}) {
    look(value);
  }
  finite = finite && !std::isnan(year.autonomy_days);  // infinite where nothing is used
  for (const MonthBalance& month : balance.months) {
    look(month.charge_ah_day);
    look(month.use_ah_day);
    look(month.shortfall_wh);
  }
  for (const Use& use : balance.uses) look(use.share);
  look(balance.ledger.error_ah());
  return finite;
}

}  // namespace

Case full_case() {
  Case c{.site = plain_site(), .weather = {.years = 2}};
  Site& site = c.site;
  site.panel.shade = {{.azimuth_from_deg = 90, .azimuth_to_deg = 150, .elevation_deg = 25}};
  site.regulator.cutoff = Threshold{11.5, Threshold::Unit::volts};
  site.regulator.standby = {0.01, Draw::Unit::amperes};
  site.battery.cycles = {{0.2, 1500}, {0.5, 600}, {1, 200}};
  site.loads = {always(0.02, "controller"),
                {.name = "pump", .draw = {2, Draw::Unit::amperes}, .schedule = PerDay{20}},
                {.name = "mist",
                 .draw = {24, Draw::Unit::watts},
                 .schedule = Runs{{{390, 10}, {1430, 20}}},
                 .idle = Draw{0.001, Draw::Unit::amperes}},
                {.name = "drip", .draw = {1, Draw::Unit::amperes}, .schedule = FromWater{"bench"}}};
  site.wiring = {{.name = "to the pump", .feeds = "pump", .length_m = 9, .section_mm2 = 1.5},
                 {.name = "panel", .feeds = "panel", .length_m = 4}};
  site.water = Water{.tank = Tank{.volume_l = 160,
                                  .level_m = 1,
                                  .outlet_height_m = 0.1,
                                  .roof_m2 = 6,
                                  .runoff_share = 0.8,
                                  .refill_l_month = std::vector<double>(12, 50.0)},
                     .lines = {{.name = "bench",
                                .pump = WaterPump{240, 6},
                                .tube = Tube{12, 13},
                                .outlets = Outlets{.count = 12, .flow_l_h = 4, .at_m = 3},
                                .demand = PlantDemand{12, 0.5},
                                .valve = SiphonValve::solenoid}}};
  site.rough = {{"loads[1].draw", 1.8, 2.2, "A"}};
  c.weather.series = std::make_shared<const WeatherSeries>(plain_days());
  return c;
}

Case changed_case(std::span<const std::uint8_t> bytes) {
  Case c = full_case();
  Changes changes(c);
  for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) changes.apply(bytes[i], bytes[i + 1]);
  changes.finish();
  return c;
}

std::string complaint(const Case& tried) {
  const std::vector<SiteProblem> problems = validate(tried.site, tried.weather);
  // As an error says it: a range may be of no path at all.
  const std::string first =
      problems.empty() ? "" : InputError(problems.front().field, problems.front().message).what();
  if (first.find('\n') != first.npos) return "a problem of several lines: " + first;
  try {
    const Simulation simulation = simulate(tried.site, tried.weather);
    if (!problems.empty()) return "simulated in spite of " + first;
    if (!is_finite(simulation.balance)) return "a figure that is not finite, and no problem told";
    (void)site_findings(tried.site, simulation);
    (void)check_wiring(tried.site, simulation);
    (void)study_water(tried.site);
  } catch (const InputError& error) {
    if (!problems.empty() && std::string_view(error.what()).find(first) != 0) {
      return fmt::format("{} thrown, {} told", error.what(), first);
    }
  } catch (const Error& error) {
    if (!problems.empty()) return fmt::format("not an InputError: {}", error.what());
  }
  return "";
}

}  // namespace amptally::testing
