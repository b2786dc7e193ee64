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

/// Ratio of a lead-acid battery's capacity at a steady current to that of 20 hours, 25 deg C:
/// 1.2 / (1 + 0.2 (I/I20)^0.65).
///
/// @param current_over_i20  discharge current over the twenty-hour current; >= 0
/// Source: the form of Copetti, Lorenzo & Chenlo 1993, Progress in Photovoltaics 1, 283-292; its
/// constants fitted here to datasheets of sealed and flooded batteries between 100 h and half an
/// hour, which it meets within 2.5 % (theirs, for tubular cells, give 0.81 at 10 h where 0.92 to
/// 0.93 are printed).
[[nodiscard]] double capacity_ratio(double current_over_i20);

/// The same by the hours the discharge lasts: 1 at 20 h.
/// @param hours  > 0
[[nodiscard]] double capacity_ratio_at_hours(double hours);

/// Capacity of the bank at the twenty-hour rate, Ah: the printed one, which belongs to
/// `rated_hours`, carried there by `capacity_ratio`.
[[nodiscard]] double twenty_hour_capacity_ah(const Battery& battery);

/// Ten-hour current of the bank, A: its capacity at the ten-hour rate over 10 h.
[[nodiscard]] double ten_hour_current_a(const Battery& battery);

/// Share of the printed capacity that can be had at a steady discharge of `current_a`, at 25 deg C.
///
/// Lead-acid: `capacity_ratio` between this rate and the rated one, or, where the battery has a
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

/// Voltage of the bank while `current_a` is drawn from it, V:
/// cells x (rest(s) - (10 I/C20)^p (a + b/(s + 0.08))), a, b and p the type's.
///
/// @param charge_left  s, 0..1: share of what can be had at this current and temperature. So the
///   rate and the cold act through `rate_factor` and `temperature_factor`, and the voltage falls
///   off towards empty at whatever current
/// @param current_a    of the whole bank, A; >= 0
/// Source: fitted here to a measured discharge of one sealed 100 Ah battery at 10 A, within 0.04 V
/// of 12 V; the root of the current for lead-acid is from memory of discharge curves. One battery:
/// another of its kind may stand 0.2 V higher or lower (common practice, no source).
[[nodiscard]] double discharging_voltage_v(const Battery& battery, double charge_left,
                                           double current_a);

/// Share of what can be had at `current_a`, 0..1, that is left when the bank's voltage falls to
/// `bank_v`: `discharging_voltage_v` the other way round; 1 where it starts lower.
[[nodiscard]] double charge_left_at_voltage(const Battery& battery, double bank_v,
                                            double current_a);

/// State of charge, 0..1, at which a battery that takes a small charge shows `bank_v`: the one it
/// comes to in the end when it is held there.
///
/// Lead-acid: V/cell = 2 + 0.16 S, Copetti et al. 1993 for a small current (coefficients from
/// memory). Lithium: the resting curve.
[[nodiscard]] double charge_held_at_voltage(const Battery& battery, double bank_v);

/// The same, up to 0.95, for a battery that is just beginning to charge.
[[nodiscard]] double state_of_charge_charging(const Battery& battery, double bank_v);

/// `curve` at `x`: straight between its points; beyond its ends the nearest end's value.
[[nodiscard]] double interpolate(Curve curve, double x);

}  // namespace amptally::inline v0_1
