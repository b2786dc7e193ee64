#include "balance/year_sequence.hpp"

#include <cmath>
#include <numeric>

#include "balance/parallel_for.hpp"
#include "balance/year_summary.hpp"
#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {

int year_count(const WeatherChoice& weather) {
  switch (weather.mode) {
    case WeatherMode::mean:
      return 1;
    case WeatherMode::synthetic:
      return weather.years;
    case WeatherMode::file:
      break;
  }
  return weather.series->years;
}

SunYear sun_year(const SiteSky& sky, const WeatherChoice& weather, int year) {
  switch (weather.mode) {
    case WeatherMode::mean:
      return mean_sun_year(sky);
    case WeatherMode::synthetic:
      return synthetic_sun_year(sky, weather.seed, year);
    case WeatherMode::file:
      break;
  }
  return series_sun_year(sky, *weather.series, year);
}

PreparedYear prepare_year(const Site& site, const Simulation& prepared,
                          const WeatherChoice& weather, int year) {
  if (weather.mode == WeatherMode::mean) return {prepared.sun, prepared.offer};  // made already
  PreparedYear made;
  made.sun = sun_year(prepared.sky, weather, year);
  made.offer = charge_offer(site, made.sun);
  return made;
}

std::vector<PreparedYear> prepare_years(const Site& site, const Simulation& prepared,
                                        const WeatherChoice& weather) {
  std::vector<PreparedYear> years(static_cast<std::size_t>(year_count(weather)));
  in_parallel(year_count(weather), weather.threads, [&](int year) {
    years[static_cast<std::size_t>(year)] = prepare_year(site, prepared, weather, year);
  });
  return years;
}

std::vector<double> asked_by_day(const LoadProfile& loads) {
  std::vector<double> asked;
  asked.reserve(kDaysPerYear);
  for (auto hour = loads.asked_ah.begin(); hour != loads.asked_ah.end(); hour += kHoursPerDay) {
    asked.push_back(std::accumulate(hour, hour + kHoursPerDay, 0.0));
  }
  return asked;
}

Monthly asked_by_month(const LoadProfile& loads) {
  Monthly asked{};
  for (int m = 0; m < 12; ++m) {
    const auto from = static_cast<std::size_t>(first_day_of_month(m) - 1) * kHoursPerDay;
    const auto hours = static_cast<std::size_t>(days_in_month(m)) * kHoursPerDay;
    double sum = 0;
    for (std::size_t h = from; h < from + hours; ++h) sum += loads.asked_ah[h];
    asked[static_cast<std::size_t>(m)] = sum / days_in_month(m);
  }
  return asked;
}

Monthly with_standby(Monthly asked_ah_day, double standby_a) {
  for (double& use_ah : asked_ah_day) use_ah += standby_a * kHoursPerDay;
  return asked_ah_day;
}

Monthly use_by_month(const LoadProfile& loads, double standby_a) {
  return with_standby(asked_by_month(loads), standby_a);
}

std::vector<double> temperature_factors(const Battery& battery, const SunYear& sun) {
  const BatteryType& type = battery_type(battery.kind);
  std::vector<double> factors;
  factors.reserve(kDaysPerYear);
  for (const WeatherDay& day : sun.days)
    factors.push_back(temperature_factor(type, day.air_temp_c));
  return factors;
}

bool is_last_pass(int pass, const StateOf<double>& before, const StateOf<double>& after,
                  double capacity_ah) {
  constexpr int kMostPasses = 60;         // chosen; then they are taken to be steady all the same
  constexpr double kSteadyShare = 1e-10;  // of the capacity; chosen
  const bool is_steady =
      std::abs((before.taken_ah - after.taken_ah) / capacity_ah) <= kSteadyShare &&
      before.connected == after.connected;
  return is_steady || pass == kMostPasses;
}

YearSequence::YearSequence(const Site& site, const LoadProfile& loads,
                           const LoadSwitch& load_switch, double floor_share)
    : site_(site),
      loads_(loads),
      asked_day_ah_(asked_by_day(loads)),
      use_ah_day_(use_by_month(loads, standby_current_a(site))),
      bank_(make_bank(site, loads, load_switch, floor_share)),
      state_(start_state(site, bank_)) {}

YearRun YearSequence::run_year(const SunYear& sun, const ChargeOffer& offer) {
  return amptally::run_year(bank_,
                            {.sun = sun,
                             .offer = offer,
                             .loads = loads_,
                             .asked_day_ah = asked_day_ah_,
                             .temperature_factor = temperature_factors(site_.battery, sun)},
                            state_, dull_);
}

}  // namespace amptally::inline v0_1
