#pragma once

#include <vector>

#include "amptally/balance.hpp"

#include "balance/hour_step.hpp"

/// The year hour by hour, with its books.
namespace amptally {

/// What stays the same through the years.
struct Bank {
  bool lead_acid;
  bool charges_in_frost;
  double charge_efficiency;  // of lithium
  double capacity_ah;        // printed, times health
  LoadSwitch load_switch;    // as states of charge
  BankOf<double> hourly;
};

/// The bank of a site.
[[nodiscard]] Bank make_bank(const Site& site, const LoadSwitch& load_switch);

/// Lithium cells must not be charged below freezing: typical pack datasheets (charge 0..50 deg C).
inline constexpr double kLithiumChargeFrom_c = 0;

/// Charge that the bank takes in an hour in air below that, Ah.
[[nodiscard]] double frozen_limit_ah(const Bank& bank);

/// The marks of a day on which `available_ah` can be had.
[[nodiscard]] DayMarksOf<double> day_marks(const Bank& bank, double available_ah);

/// Out of the full battery at the start of the first year.
[[nodiscard]] StateOf<double> start_state(const Site& site, const Bank& bank);

/// One year's days, books and states of charge.
struct YearRun {
  std::vector<DayBalance> days;  ///< 365; shortfalls in Wh still to be filled in
  Ledger ledger;
  std::vector<double> state_of_charge;  ///< 8,760, at the end of each hour
  /// Longest run of days that brought less than was used, with what came of it from the year
  /// before.
  int longest_dull_days = 0;
};

/// Adds a book's columns to another's, but for the change of what is stored.
void add(Ledger& to, const Ledger& from);

/// Walks one year from `state`, and leaves `state` at its end.
/// @param available_ah  365: what can be had at the day's temperature and rate
[[nodiscard]] YearRun run_year(const Bank& bank, const std::vector<double>& available_ah,
                               const SunYear& sun, const ChargeOffer& offer,
                               const LoadProfile& loads, StateOf<double>& state);

}  // namespace amptally
