#pragma once

#include <vector>

#include "balance/battery_year.hpp"

/// The years of a weather choice, and one design run through them one after the other.
namespace amptally::inline v0_1 {

/// The number of years in the chosen weather: 1 in mean weather.
[[nodiscard]] int year_count(const WeatherChoice& weather);

/// Year `year` of the chosen weather, from 0.
/// @throws DataError from `series_sun_year`
[[nodiscard]] SunYear sun_year(const SiteSky& sky, const WeatherChoice& weather, int year);

/// A year ready to be run.
struct PreparedYear {
  SunYear sun;
  ChargeOffer offer;
};

/// Year `year` of the chosen weather, from 0.
/// @throws DataError from `series_sun_year`
[[nodiscard]] PreparedYear prepare_year(const Site& site, const Simulation& prepared,
                                        const WeatherChoice& weather, int year);

/// All years of the chosen weather, made by `weather.threads` threads.
/// @throws DataError from `series_sun_year`
[[nodiscard]] std::vector<PreparedYear> prepare_years(const Site& site, const Simulation& prepared,
                                                      const WeatherChoice& weather);

/// What the loads ask for on each day, Ah, 365: the sum of its hours, in their order.
[[nodiscard]] std::vector<double> asked_by_day(const LoadProfile& loads);

/// What the loads ask for on a month's mean day, Ah.
[[nodiscard]] Monthly asked_by_month(const LoadProfile& loads);

/// The same with a standby draw all day.
[[nodiscard]] Monthly with_standby(Monthly asked_ah_day, double standby_a);

/// Mean daily use of each month, loads and standby, Ah.
[[nodiscard]] Monthly use_by_month(const LoadProfile& loads, double standby_a);

/// Share of the capacity that there is on each of 365 days.
[[nodiscard]] std::vector<double> temperature_factors(const Battery& battery, const SunYear& sun);

/// Whether passes over the same years are over: this one ended as it began, or it is the last that
/// is tried.
/// @param pass  from 1
[[nodiscard]] bool is_last_pass(int pass, const StateOf<double>& before,
                                const StateOf<double>& after, double capacity_ah);

/// Runs years of one system one after the other, and keeps its state between them. Begins at the
/// battery's `start`.
class YearSequence {
 public:
  /// @param site   must outlive the sequence, as must `loads`
  /// @param floor_share  that the battery's days are held to
  YearSequence(const Site& site, const LoadProfile& loads, const LoadSwitch& load_switch,
               double floor_share);

  YearRun run_year(const SunYear& sun, const ChargeOffer& offer);

  [[nodiscard]] const StateOf<double>& state() const { return state_; }
  [[nodiscard]] double capacity_ah() const { return bank_.daily.capacity_ah; }
  [[nodiscard]] const Monthly& use_ah_day() const { return use_ah_day_; }

 private:
  const Site& site_;
  const LoadProfile& loads_;
  std::vector<double> asked_day_ah_;
  Monthly use_ah_day_;
  BatteryBank bank_;
  StateOf<double> state_;
  DullDaysOf<double> dull_{};
};

}  // namespace amptally::inline v0_1
