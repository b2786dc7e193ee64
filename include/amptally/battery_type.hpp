#pragma once

#include <span>
#include <string_view>
#include <utility>

#include "amptally/site.hpp"

/// What is known of the types of battery: the objects of data/batteries.json, where each figure has
/// its source. Code asks a type what it is like, never which one it is.
namespace amptally::inline v0_1 {

/// (x, y) points of a curve, x rising; straight lines between.
using Curve = std::span<const std::pair<double, double>>;

/// What the cells are made of; decides which equations hold for them.
enum class Chemistry { lead_acid, lithium };

/// Usual values of a battery type.
struct BatteryType {
  BatteryKind kind;
  std::string_view name;                          ///< as the site file spells it
  std::string_view label;                         ///< as a person says it
  std::span<const std::string_view> other_words;  ///< for its name, to be told what to write
  Chemistry chemistry;
  bool sealed;                   ///< gives off no gas unless overcharged
  bool charges_in_frost;         ///< whether it may be charged below 0 deg C
  double cell_v;                 ///< nominal, V per cell
  double charging_cell_v;        ///< while charging, V per cell
  double absorption_cell_v;      ///< end of charge, V per cell
  double highest_charge_cell_v;  ///< that any datasheet asks for, V per cell
  double floor_share;            ///< usual deepest discharge, 0..1
  /// Share of what is let in that comes back, 0..1. Lead-acid that is not sealed loses more near
  /// full, by gassing, which is computed: 1 here.
  double charge_efficiency_share;
  double max_charge_c;  ///< A per Ah of capacity
  double self_discharge_pct_month;
  Curve temp_capacity;  ///< deg C -> share of the printed capacity
  Curve rest_cell_v;    ///< state of charge -> resting V per cell
  Curve cycles;         ///< depth of discharge -> cycles
  // What a current takes off the resting voltage, see `discharging_voltage_v`.
  double drop_cell_v;        ///< V per cell at a tenth of the capacity in A
  double empty_drop_cell_v;  ///< V per cell more, over the charge left; grows towards empty
  double drop_power;         ///< of the current
  double shelf_life_years;   ///< at 25 deg C

  [[nodiscard]] bool is_lead_acid() const { return chemistry == Chemistry::lead_acid; }
};

/// All types, in the order of data/batteries.json.
[[nodiscard]] std::span<const BatteryType> battery_types();

[[nodiscard]] const BatteryType& battery_type(BatteryKind kind);

/// The kind that is called `name`, as in a site file: `battery_kind("agm")`.
///
/// @throws InputError if no type has that name; the message lists those there are
[[nodiscard]] BatteryKind battery_kind(std::string_view name);

}  // namespace amptally::inline v0_1
