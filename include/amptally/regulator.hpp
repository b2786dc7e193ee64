#pragma once

#include <vector>

#include "amptally/battery.hpp"
#include "amptally/panel.hpp"
#include "amptally/weather.hpp"

namespace amptally::inline v0_1 {

/// What panel and regulator offer the battery and loads, hour by hour.
struct ChargeOffer {
  std::vector<double> current_a;  ///< 8,760, at the battery; after losses and the regulator's limit
  double full_sun_w;              ///< delivered at 1000 W/m2 and 25 deg C cells
  double full_sun_panel_w;        ///< the panels' own maximum there, after losses
  double clipped_ah;              ///< a year, refused by the regulator's current limit
};

/// The offer over a year, limited to the regulator's max_current.
///
/// mppt: G/1000 (1 + coefficient (Tc - 25)) of the panels' power, over the charging voltage. pwm
/// and none: the battery pulls the panel to its own charging voltage, so the current is the panel
/// curve's there.
[[nodiscard]] ChargeOffer charge_offer(const Site& site, const SunYear& year);

/// Current delivered to the battery, A, in one state of sun and cells, before the regulator's
/// limit.
[[nodiscard]] double delivered_current_a(const Site& site, double irradiance_w_m2,
                                         double cell_temperature_c);

/// Standby draw of the regulator at the battery, A.
[[nodiscard]] double standby_current_a(const Site& site);

/// Absorption voltage of the bank, V: the regulator's, or the battery type's usual one.
[[nodiscard]] double absorption_voltage_v(const Site& site);

/// State of charge at which charging ends, 0..1: where the battery, at a trickle, shows the
/// absorption voltage (`state_of_charge_charging`). 1 at every usual one.
[[nodiscard]] double filled_share(const Site& site);

/// Share of the charge there is at the day's temperature that a draw can take out of the full
/// battery: until the cutoff opens, or the battery gives no more at that current.
///
/// A cutoff in volts is met where `discharging_voltage_v` at this draw falls to it. Falls with the
/// draw; the sun's part of the current is not taken off, which is on the safe side.
/// @param draw_a  of all loads that run, A; >= 0
[[nodiscard]] double drawable_share(const Site& site, double draw_a);

/// State of charge, 0..1, at which loads are cut off and come back.
struct LoadSwitch {
  bool cuts_off;           ///< whether anything ever disconnects them
  double cutoff_share;     ///< of the charge there is, left at `draw_a`; 0 where nothing cuts off
  double reconnect_share;  ///< >= cutoff_share
};

/// The regulator's cutoff and reconnect as states of charge.
///
/// Volts become a state of charge through the battery's discharging (cutoff) and charging
/// (reconnect) voltage. No reconnect given: 20 points above the cutoff, common practice, no source.
/// @param draw_a  at which the cutoff is told: the largest of the year, A
[[nodiscard]] LoadSwitch load_switch(const Site& site, double draw_a);

}  // namespace amptally::inline v0_1
