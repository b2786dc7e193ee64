#pragma once

#include <algorithm>
#include <cstdint>

#include "amptally/battery_type.hpp"
#include "amptally/panel.hpp"
#include "amptally/site.hpp"
#include "amptally/sun.hpp"

namespace amptally::testing {

/// A small system of no particular place in which every figure is plain: 100 W panel, 50 Ah AGM
/// battery, pwm regulator without standby draw, no loads, 25 deg C all year, 4 kWh/m2 every day on
/// the equator. Tests change what they are about.
inline Site plain_site() {
  Site site{.name = "plain",
            .place = {.name = "plain",
                      .latitude_deg = 0,
                      .longitude_deg = 0,
                      .sun_horizontal_kwh_m2_day = {4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4},
                      .air_temp_c = {25, 25, 25, 25, 25, 25, 25, 25, 25, 25, 25, 25}},
            .panel = {.power_w = 100, .tilt_deg = 0, .azimuth_deg = 180},
            .regulator = {.kind = RegulatorKind::pwm},
            .battery = {.kind = battery_kind("agm"), .capacity_ah = 50, .floor_share = 0.5},
            .loads = {},
            .wiring = {},
            .water = {},
            .aim = {},
            .rough = {},
            .assumptions = {}};
  site.place.climate.own_sun = true;
  return site;
}

inline Load always(double amperes, const std::string& name = "steady") {
  return {.name = name, .draw = {amperes, Draw::Unit::amperes}, .schedule = AlwaysOn{}};
}

/// A stream of numbers that is the same on every machine (splitmix64, Steele, Lea & Flood 2014).
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}

  /// Evenly spread over [low, high).
  double between(double low, double high) {
    state_ += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    z ^= z >> 31;
    return low + (high - low) * (static_cast<double>(z >> 11) * 0x1p-53);
  }
  /// 0..n-1
  int one_of(int n) { return static_cast<int>(between(0, n)); }

 private:
  std::uint64_t state_;
};

inline BatteryKind any_kind(Dice& dice) {
  const auto types = battery_types();
  return types[static_cast<std::size_t>(dice.one_of(static_cast<int>(types.size())))].kind;
}

/// Any site a grower could have, and some that nobody would.
inline Site random_site(std::uint64_t seed) {
  Dice dice(seed);
  Site site = plain_site();
  Place& place = site.place;
  place.latitude_deg = dice.between(-65, 65);
  place.longitude_deg = dice.between(-180, 180);
  place.utc_offset_h = dice.between(-12, 12);
  place.climate.own_sun = false;
  for (std::size_t m = 0; m < 12; ++m) {
    const double top = extraterrestrial_month_kwh_m2_day(place.latitude_deg, static_cast<int>(m));
    place.sun_horizontal_kwh_m2_day[m] = std::min(dice.between(0.3, 6.5), 0.8 * top);
    place.air_temp_c[m] = dice.between(-15, 35);
  }
  site.panel = {.power_w = dice.between(0, 300),
                .count = 1 + dice.one_of(3),
                .tilt_deg = dice.between(0, 90),
                .azimuth_deg = dice.between(0, 360)};
  if (dice.one_of(3) == 0) {
    site.panel.shade.push_back({.azimuth_from_deg = dice.between(0, 360),
                                .azimuth_to_deg = dice.between(0, 360),
                                .elevation_deg = dice.between(0, 60)});
  }
  site.regulator.kind = static_cast<RegulatorKind>(dice.one_of(3));
  site.regulator.standby.value = dice.between(0, 0.2);
  if (dice.one_of(2) == 0) {
    site.regulator.cutoff = {dice.between(0.1, 0.6), Threshold::Unit::state_of_charge};
  } else if (dice.one_of(2) == 0) {
    site.regulator.cutoff = {dice.between(10.5, 12.2), Threshold::Unit::volts};
  }
  if (site.regulator.kind == RegulatorKind::none) site.regulator.cutoff.reset();  // none to switch
  if (dice.one_of(3) == 0) site.regulator.max_current_a = dice.between(1, 20);
  site.battery = {.kind = any_kind(dice),
                  .capacity_ah = dice.between(1, 200),
                  .floor_share = dice.between(0.2, 0.9),
                  .health_share = dice.between(0.4, 1),
                  .start_share = dice.between(0, 1)};
  if (dice.one_of(3) == 0) site.battery.max_charge_current_a = dice.between(0.2, 10);
  const int loads = dice.one_of(4);
  for (int i = 0; i < loads; ++i) {
    Load load{.name = "load " + std::to_string(i),
              .draw = {dice.between(0.01, 4), Draw::Unit::amperes},
              .count = 1 + dice.one_of(3),
              .schedule = AlwaysOn{},
              .every_days = 1 + dice.one_of(3)};
    if (dice.one_of(2) == 0) {
      load.schedule = PerDay{dice.between(0, 600), static_cast<When>(dice.one_of(3))};
    } else {
      load.schedule = Runs{{{dice.between(0, 1439), dice.between(0, 700)}}};
    }
    if (dice.one_of(3) == 0) load.idle = Draw{dice.between(0, 0.05), Draw::Unit::amperes};
    site.loads.push_back(load);
  }
  return site;
}

/// The label of a usual panel of 100 W and 36 cells.
inline PanelRating usual_rating() {
  return {.power_w = 100,
          .vmp_v = 17.6,
          .imp_a = 5.68,
          .voc_v = 21.8,
          .isc_a = 6.02,
          .temp_coeff_power_pct_k = -0.43,
          .temp_coeff_voc_pct_k = -0.33,
          .assumptions = {}};
}

}  // namespace amptally::testing
