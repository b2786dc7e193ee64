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

/// State of charge, 0..1, at which loads are cut off and come back.
struct LoadSwitch {
  double cutoff_share;     ///< 0 when there is none
  double reconnect_share;  ///< >= cutoff_share
};

/// The regulator's cutoff and reconnect as states of charge.
///
/// Volts become a state of charge through the battery's discharging (cutoff, at the mean draw of
/// the running loads) and charging (reconnect) voltage. No reconnect given: cutoff plus 20 points,
/// common practice, no source.
/// @param load_current_a  draw at which the cutoff voltage is met, A
[[nodiscard]] LoadSwitch load_switch(const Site& site, double load_current_a);

}  // namespace amptally::inline v0_1
