#pragma once

#include "amptally/battery_type.hpp"
#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// Cells in series in the whole bank: nominal voltage over the type's cell voltage, rounded.
[[nodiscard]] int bank_cells(const Battery& battery);

/// Voltage of the bank while it charges, V.
[[nodiscard]] double charging_voltage_v(const Battery& battery);

/// Share of the printed capacity that can be had at `temp_c`; straight between the type's points,
/// carried on with the last slope below the coldest, never above 1 nor below 0.
[[nodiscard]] double temperature_factor(const BatteryType& type, double temp_c);

/// Ratio of the capacity at a current of `current_over_i10` to that at I10, 25 deg C.
///
/// C/C10 = 1.67 / (1 + 0.67 (I/I10)^0.9).
/// @param current_over_i10  discharge current over the ten-hour current; >= 0
/// Source: Copetti, Lorenzo & Chenlo 1993, Progress in Photovoltaics 1, 283-292.
[[nodiscard]] double copetti_capacity_ratio(double current_over_i10);

/// Ten-hour current of the bank, A: its capacity at the ten-hour rate over 10 h.
///
/// The printed capacity belongs to `rated_hours`; it is carried to ten hours by
/// `copetti_capacity_ratio`.
[[nodiscard]] double ten_hour_current_a(const Battery& battery);

/// Share of the printed capacity that can be had at a steady discharge of `current_a`, at 25 deg C.
///
/// Lead-acid: Copetti's ratio between this rate and the rated one, or, where the battery has a
/// Peukert exponent k, (I_rated/I)^(k-1), the rated-hour form of t = H (C/(I H))^k.
/// Lithium: 1. Never above 1.
/// @param current_a  of the whole bank, A; >= 0
[[nodiscard]] double rate_factor(const Battery& battery, double current_a);

/// Coulombic efficiency of lead-acid charging: 1 - exp(20.73 (S - 1) / (I/I10 + 0.55)).
///
/// @param state_of_charge  0..1
/// @param current_over_i10  charge current over the ten-hour current; >= 0
/// Source: Copetti, Lorenzo & Chenlo 1993.
[[nodiscard]] double copetti_charge_efficiency(double state_of_charge, double current_over_i10);

/// State of charge, 0..1, at which a discharging battery shows `bank_v` volts.
///
/// Lead-acid: V/cell = 2.085 - 0.12 (1 - S) - (I/C10)(4/(1 + I^1.3) + 0.27/S^1.5 + 0.02), Copetti,
/// Lorenzo & Chenlo 1993 at 25 deg C (coefficients from memory; I scaled to a battery of 100 Ah).
/// Lithium: the resting curve.
/// @param bank_v     V of the whole bank
/// @param current_a  discharge current of the whole bank, A; >= 0
[[nodiscard]] double state_of_charge_discharging(const Battery& battery, double bank_v,
                                                 double current_a);

/// State of charge, 0..0.95, at which a battery that is just beginning to charge shows `bank_v`.
///
/// Lead-acid: V/cell = 2 + 0.16 S, Copetti et al. 1993 for a small current (coefficients from
/// memory). Lithium: the resting curve.
[[nodiscard]] double state_of_charge_charging(const Battery& battery, double bank_v);

/// `curve` at `x`: straight between its points; beyond its ends the nearest end's value.
[[nodiscard]] double interpolate(Curve curve, double x);

}  // namespace amptally::inline v0_1
