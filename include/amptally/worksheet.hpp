#pragma once

#include "amptally/site.hpp"

/// The hand method that trade manuals teach, as a second opinion beside the simulation: a design
/// month, amp-hours over sun hours, days over depth. It knows no spells of weather and no hours of
/// the day.
namespace amptally::inline v0_1 {

/// What the method starts from.
struct WorksheetInput {
  Monthly use_ah_day;       ///< asked by loads and standby at the battery, Ah a day
  Monthly sun_hours;        ///< in-plane irradiation, kWh/m2/day: hours of full sun
  double efficiency_share;  ///< of what the panels give that the battery gives back, 0..1
  /// Volts at which a watt of panel becomes amps: vmp behind pwm, the charging voltage behind mppt.
  double panel_v;
  double days;                ///< without sun to be bridged
  double depth_share;         ///< deepest discharge allowed, 0..1
  double temperature_factor;  ///< share of the capacity left in the coldest month, 0..1
};

struct Worksheet {
  int design_month = 0;        ///< 0..11: the month with the most use for its sun
  double panel_current_a = 0;  ///< at full sun
  double panel_power_w = 0;
  double battery_capacity_ah = 0;
};

/// Current the panels must give at full sun, A: use / (efficiency x sun hours). Infinite without
/// sun.
[[nodiscard]] double worksheet_panel_current_a(double use_ah_day, double efficiency_share,
                                               double sun_hours);

/// Capacity of the battery, Ah: days x use / (depth x temperature factor).
[[nodiscard]] double worksheet_battery_ah(double use_ah_day, double days, double depth_share,
                                          double temperature_factor);

/// The whole sheet. The battery follows the month with the largest use.
/// Source: the method of the worked examples in tests/published/worksheet_published_test.cpp; IEEE
/// Std 1013 for the battery (from memory).
[[nodiscard]] Worksheet worksheet(const WorksheetInput& input);

}  // namespace amptally::inline v0_1
