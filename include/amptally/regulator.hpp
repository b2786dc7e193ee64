#pragma once

#include <vector>

#include "amptally/battery.hpp"
#include "amptally/panel.hpp"
#include "amptally/weather.hpp"

namespace amptally {

/// What decides how sun becomes charge, whatever the sizes: two sites that share it are offered
/// currents that differ by a factor and a limit only.
struct OfferShape {
  bool converts;  ///< mppt
  double noct_c;
  // With a converter:
  double temp_coeff_power_pct_k;
  // Without: the label of a panel of 1 A short-circuit current, and the voltage it is held at.
  double vmp_v;
  double imp_a;
  double voc_v;
  double temp_coeff_voc_pct_k;
  double held_at_v;

  bool operator==(const OfferShape&) const = default;
};

/// Label figures are taken to a billionth: a label and the same label in another size share their
/// shape to the last bit.
[[nodiscard]] OfferShape offer_shape(const Site& site);

/// What the shape's currents are multiplied by: with a converter, the watts of all panels after
/// losses over the charging voltage, A; without, their short-circuit current after losses, over
/// 1 A.
[[nodiscard]] double offer_size(const Site& site);

/// The largest current that the regulator lets through, A; infinite where it has no limit.
[[nodiscard]] double offer_limit_a(const Site& site);

/// Hourly currents of a shape, for a size of 1 and before any limit, 8,760.
///
/// mppt: G/1000 (1 + coefficient (Tc - 25)). pwm and none: the battery pulls the panel to its own
/// charging voltage, so the current is the panel curve's there.
[[nodiscard]] std::vector<double> unit_offer(const OfferShape& shape, const SunYear& year);

/// What panel and regulator offer the battery and loads, hour by hour.
struct ChargeOffer {
  std::vector<double> current_a;  ///< 8,760, at the battery; after losses and the regulator's limit
  double full_sun_w;              ///< delivered at 1000 W/m2 and 25 deg C cells
  double full_sun_panel_w;        ///< the panels' own maximum there, after losses
  double clipped_ah;              ///< a year, refused by the regulator's current limit
};

/// The offer over a year: the unit offer times the size, limited to the regulator's max_current.
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
  double cutoff;     ///< 0 when there is none
  double reconnect;  ///< >= cutoff
};

/// The regulator's cutoff and reconnect as states of charge.
///
/// Volts become a state of charge through the battery's discharging (cutoff, at the mean draw of
/// the running loads) and charging (reconnect) voltage. No reconnect given: cutoff plus 20 points,
/// common practice, no source.
/// @param load_current_a  draw at which the cutoff voltage is met, A
[[nodiscard]] LoadSwitch load_switch(const Site& site, double load_current_a);

}  // namespace amptally
