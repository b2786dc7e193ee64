#pragma once

#include <string>
#include <vector>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// Sun and cells that a panel's label is for: standard test conditions, IEC 60904-3 (from memory).
inline constexpr double kLabelSun_w_m2 = 1000;
inline constexpr double kLabelCell_c = 25;

/// A panel's electrical label with what was missing filled in, at 1000 W/m2 and 25 deg C.
struct PanelRating {
  double power_w;
  double vmp_v;
  double imp_a;
  double voc_v;
  double isc_a;
  double temp_coeff_power_pct_k;
  double temp_coeff_voc_pct_k;
  std::vector<Assumption> assumptions;  ///< what was derived, and from which rule
};

/// The label of one panel, completed.
///
/// From the rest where the trade has a rule: power = vmp x imp; vmp = 0.81 voc; isc = 1.06 imp.
/// With no voltage given, a panel for a 12 V battery has 36 cells (72 for 24 V): vmp 17.6 V, voc
/// 21.8 V per 36. Coefficients: -0.43 %/K (power), -0.33 %/K (open-circuit voltage). All common
/// practice, no source.
/// @param system_v  nominal voltage of the battery bank, V: decides between 36 and 72 cells
[[nodiscard]] PanelRating panel_rating(const Panel& panel, double system_v);

/// The slope and the direction usually given to a panel, deg: the latitude in whole degrees, but at
/// least 10 so that rain washes it, facing the equator. Common practice, no source.
[[nodiscard]] double usual_tilt_deg(double latitude_deg);
[[nodiscard]] double usual_azimuth_deg(double latitude_deg);

/// The same label in another size: its currents in proportion to the power.
/// @param power_w  of each panel, W; >= 0
[[nodiscard]] Panel with_power(Panel panel, double power_w);

/// Current of one panel at a given voltage: an ideal-source single diode with series resistance,
/// I = IL - I0 (exp((V + I Rs)/a) - 1), fitted to the label's three points.
///
/// De Soto, Klein & Beckman 2006 (Solar Energy 80, 78-88) without the shunt resistance. Zero slope
/// of power at the maximum then gives a and Rs in closed form (docs/model.md, "Panel"):
/// a = (2 vmp - voc) / (imp/(isc - imp) + ln(1 - imp/isc)), Rs = (a ln(1 - imp/isc) + voc -
/// vmp)/imp. Where that has no sense (Rs < 0), Rs = 0 and a = (vmp - voc)/ln(1 - imp/isc).
class PanelCurve {
 public:
  explicit PanelCurve(const PanelRating& rating);

  /// Current of one panel, A; >= 0 (it is kept from flowing back).
  /// @param voltage_v         V at one panel; >= 0
  /// @param irradiance_w_m2   in the plane; >= 0
  /// @param cell_temp_c       deg C
  [[nodiscard]] double current_a(double voltage_v, double irradiance_w_m2,
                                 double cell_temp_c) const;

  /// Open-circuit voltage at 1000 W/m2, V.
  [[nodiscard]] double open_circuit_v(double cell_temp_c) const;

 private:
  double isc_a_;
  double voc_v_;
  double voc_slope_v_k_;
  double modified_ideality_v_;  // a at 25 deg C
  double series_ohm_;
};

/// Cell temperature, deg C: air + (NOCT - 20)/800 x irradiance.
/// Source: Duffie & Beckman, Solar Engineering of Thermal Processes, section 23.3 (NOCT, no wind).
[[nodiscard]] double cell_temp_c(double air_temp_c, double irradiance_w_m2, double noct_c);

/// Power of one panel at its maximum, W: power G/1000 (1 + coefficient (Tc - 25)); >= 0.
[[nodiscard]] double max_power_w(const PanelRating& rating, double irradiance_w_m2,
                                 double cell_temperature_c);

/// Open-circuit voltage of one panel with cells at `temp_c`, V, by its own coefficient.
[[nodiscard]] double cold_voc_v(const PanelRating& rating, double temp_c);

/// Factor on the open-circuit voltage of crystalline panels at a low ambient temperature.
/// 1 above 24 deg C; the table's last row below -40. Source: NEC 2014 Table 690.7.
[[nodiscard]] double nec_cold_voltage_factor(double ambient_c);

/// Continuous current a string's conductors and fuse must carry, A: 1.25 x 1.25 x isc.
/// Source: NEC 690.8(A) and (B).
[[nodiscard]] double nec_string_current_a(double isc_a);

}  // namespace amptally::inline v0_1
