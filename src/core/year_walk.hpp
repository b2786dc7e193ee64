#pragma once

#include <vector>

#include "amptally/balance.hpp"

/// The year hour by hour: the one definition of a step.
namespace amptally {

/// What stays the same through the years.
struct Bank {
  bool lead_acid;
  double capacity_ah;        // printed, times health
  double charge_efficiency;  // flat, for lithium
  double ten_hour_a;         // for lead-acid
  double max_charge_ah;      // into the battery in one hour
  double self_discharge;     // share of the charge lost in one hour
  double standby_ah;         // in one hour
  LoadSwitch load_switch;
};

/// What goes from year to year. Charge is kept as what has been taken out of a full battery.
struct State {
  double taken_ah = 0;
  bool connected = true;
};

/// One year's days, books and states of charge.
struct YearRun {
  std::vector<DayBalance> days;  ///< 365; shortfalls in Wh still to be filled in
  Ledger ledger;
  std::vector<double> state_of_charge;  ///< 8,760, at the end of each hour
};

/// Adds a book's columns to another's, but for the change of what is stored.
void add(Ledger& to, const Ledger& from);

/// Walks one year from `state`, and leaves `state` at its end.
/// @param available_ah  365: what can be had at the day's temperature and rate
[[nodiscard]] YearRun run_year(const Bank& bank, const std::vector<double>& available_ah,
                               const SunYear& sun, const ChargeOffer& offer,
                               const LoadProfile& loads, State& state);

}  // namespace amptally
