#pragma once

#include "amptally/battery_type.hpp"
#include "amptally/site.hpp"

namespace amptally::bench {

/// A watering system at 43 N with sun and air of a mild, dull coast; figures of our own.
inline Site garden(BatteryKind kind, RegulatorKind regulator) {
  Site site{.name = "garden",
            .place = {.name = "coast",
                      .latitude_deg = 43.4,
                      .longitude_deg = -5.9,
                      .sun_horizontal_kwh_m2_day = {1.6, 2.4, 3.6, 4.4, 5.1, 5.5, 5.5, 4.9, 4.0,
                                                    2.7, 1.8, 1.4},
                      .air_temp_c = {9, 9, 11, 12, 14, 17, 19, 20, 18, 15, 12, 10},
                      .utc_offset_h = 1},
            .panel = {.power_w = 10, .tilt_deg = 60, .azimuth_deg = 180},
            .regulator = {.kind = regulator,
                          .standby = {.value = 0.02},
                          .cutoff = Threshold{0.5, Threshold::Unit::state_of_charge}},
            .battery = {.kind = kind, .capacity_ah = 12, .floor_share = 0.5},
            .aim = {}};
  site.loads.push_back({.name = "pump",
                        .draw = {2, Draw::Unit::amperes},
                        .schedule = Runs{{{390, 30}, {1170, 30}}}});
  return site;
}

}  // namespace amptally::bench
