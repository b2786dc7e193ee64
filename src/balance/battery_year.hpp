#pragma once

#include <array>
#include <vector>

#include "amptally/balance.hpp"

#include "balance/day_step.hpp"

/// The year of one design, hour by hour, with its books.
namespace amptally::inline v0_1 {

/// A battery bank and the regulator on it: what stays the same through the years.
struct BatteryBank {
  bool gases;  ///< what is let in near full and not kept goes off as gas; else it is not let in
  bool charges_in_frost;
  std::vector<double> drawable_share;  ///< at each of the loads' draws, see `drawable_share`
  HourConstantsOf<double> hourly;
  DayConstantsOf<double> daily;
};

/// The bank of a site.
/// @param floor_share  that its days are held to
[[nodiscard]] BatteryBank make_bank(const Site& site, const LoadProfile& loads,
                                    const LoadSwitch& load_switch, double floor_share);

/// Charge that the bank takes in an hour in air below freezing, Ah.
[[nodiscard]] double frozen_limit_ah(const BatteryBank& bank);

/// Lithium cells must not be charged below freezing: typical pack datasheets (charge 0..50 deg C).
inline constexpr double kLithiumChargeFrom_c = 0;

/// What an hour's sun on the panel and its air come to.
[[nodiscard]] inline Light light_of(double plane_w_m2, double air_temp_c) {
  if (plane_w_m2 <= 0) return Light::dark;
  return air_temp_c < kLithiumChargeFrom_c ? Light::lit_and_frozen : Light::lit;
}

/// Out of the full battery at the start of the first year.
[[nodiscard]] StateOf<double> start_state(const Site& site, const BatteryBank& bank);

/// What a system meets in a year.
struct YearInput {
  const SunYear& sun;
  const ChargeOffer& offer;
  const LoadProfile& loads;
  const std::vector<double>& asked_day_ah;  ///< 365, each the sum of its hours of `loads`
  std::vector<double> temperature_factor;   ///< 365
};

/// Sun on some days.
struct SunSum {
  double horizontal_kwh_m2 = 0;
  double panel_kwh_m2 = 0;

  /// @param d  0..364
  void add_day(const SunYear& sun, std::size_t d);
};

/// The days of a month or a year.
struct Period {
  SunSum sun;
  PeriodSumsOf<double> days{};
};

/// One year's days, sums, books and states of charge.
struct YearRun {
  std::vector<DayBalance> days;  ///< 365
  std::array<Period, 12> months;
  Period year;
  Ledger ledger;
  std::vector<double> state_of_charge;  ///< 8,760, at the end of each hour
  /// Longest run of days that brought less than was used, with what came of it from the year
  /// before.
  int longest_dull_days = 0;
};

/// Adds a book's columns to another's, but for the change of what is stored.
void add(Ledger& to, const Ledger& from);

/// Runs one year from `state`, and leaves `state` at its end; counts on from `dull.so_far`.
[[nodiscard]] YearRun run_year(const BatteryBank& bank, const YearInput& input,
                               StateOf<double>& state, DullDaysOf<double>& dull);

}  // namespace amptally::inline v0_1
