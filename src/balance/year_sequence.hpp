#pragma once

#include <vector>

#include "balance/battery_year.hpp"

/// Years made ready and walked one after the other.
namespace amptally {

/// The number of years in the chosen weather: 1 in mean weather.
[[nodiscard]] int year_count(const WeatherChoice& weather);

/// Year `year` of the chosen weather, from 0.
/// @throws DataError from `series_sun_year`
[[nodiscard]] SunYear sun_year(const SiteSky& sky, const WeatherChoice& weather, int year);

/// A year ready to be walked.
struct MadeYear {
  SunYear sun;
  ChargeOffer offer;
};

/// Year `year` of the chosen weather, from 0.
/// @throws DataError from `series_sun_year`
[[nodiscard]] MadeYear make_year(const Site& site, const Simulation& prepared,
                                 const WeatherChoice& weather, int year);

/// All years of the chosen weather, made by `weather.threads` threads.
/// @throws DataError from `series_sun_year`
[[nodiscard]] std::vector<MadeYear> make_years(const Site& site, const Simulation& prepared,
                                               const WeatherChoice& weather);

/// What the loads ask for on a month's mean day, Ah.
[[nodiscard]] Monthly asked_by_month(const LoadProfile& loads);

/// The same with a standby draw all day.
[[nodiscard]] Monthly with_standby(Monthly asked_ah_day, double standby_a);

/// Mean daily use of each month, loads and standby, Ah.
[[nodiscard]] Monthly use_by_month(const LoadProfile& loads, double standby_a);

/// What can be had on each of 365 days, at its temperature and its month's mean use, Ah.
[[nodiscard]] std::vector<double> available_by_day(const Battery& battery, const SunYear& sun,
                                                   const Monthly& use_ah_day);

/// Passes over the same years after which they are taken to be steady all the same. Chosen.
inline constexpr int kMostPasses = 60;

/// Whether years ended as they began. Chosen: to 1e-10 of the capacity.
[[nodiscard]] bool is_steady(const StateOf<double>& before, const StateOf<double>& after,
                             double capacity_ah);

/// Walks years for one system, keeping its state between them. Begins at the battery's `start`.
class Walk {
 public:
  /// @param site   must outlive the walk, as must `loads`
  Walk(const Site& site, const LoadProfile& loads, const LoadSwitch& load_switch);

  YearRun year(const SunYear& sun, const ChargeOffer& offer);

  [[nodiscard]] const StateOf<double>& state() const { return state_; }
  [[nodiscard]] double capacity_ah() const { return bank_.capacity_ah; }
  [[nodiscard]] const Monthly& use_ah_day() const { return use_ah_day_; }

 private:
  const Site& site_;
  const LoadProfile& loads_;
  Monthly use_ah_day_;
  Bank bank_;
  StateOf<double> state_;
  int dull_run_days_ = 0;  // days in a row, up to now, that brought less than was used
};

}  // namespace amptally
