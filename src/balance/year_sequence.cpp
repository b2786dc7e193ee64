#include "balance/year_sequence.hpp"

#include <algorithm>
#include <cmath>

#include "balance/parallel_for.hpp"
#include "balance/year_summary.hpp"
#include "place/sun_year.hpp"

namespace amptally {

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

MadeYear make_year(const Site& site, const Simulation& prepared, const WeatherChoice& weather,
                   int year) {
  if (weather.mode == WeatherMode::mean) return {prepared.sun, prepared.offer};  // made already
  MadeYear made;
  made.sun = sun_year(prepared.sky, weather, year);
  made.offer = charge_offer(site, made.sun);
  return made;
}

std::vector<MadeYear> make_years(const Site& site, const Simulation& prepared,
                                 const WeatherChoice& weather) {
  std::vector<MadeYear> years(static_cast<std::size_t>(year_count(weather)));
  in_parallel(year_count(weather), weather.threads, [&](int year) {
    years[static_cast<std::size_t>(year)] = make_year(site, prepared, weather, year);
  });
  return years;
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

std::vector<double> available_by_day(const Battery& battery, const SunYear& sun,
                                     const Monthly& use_ah_day) {
  const Monthly rate = rate_factors(battery, use_ah_day);
  const BatteryType& type = battery_type(battery.kind);
  std::vector<double> available;
  available.reserve(kDaysPerYear);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    available.push_back(battery.bank_capacity_ah() *
                        temperature_factor(type, sun.days[d].air_temp_c) * rate[month_index(d)]);
  }
  return available;
}

bool is_steady(const StateOf<double>& before, const StateOf<double>& after, double capacity_ah) {
  constexpr double kSteadyShare = 1e-10;
  return std::abs((before.taken_ah - after.taken_ah) / capacity_ah) <= kSteadyShare &&
         before.connected == after.connected;
}

Walk::Walk(const Site& site, const LoadProfile& loads, const LoadSwitch& load_switch)
    : site_(site),
      loads_(loads),
      use_ah_day_(use_by_month(loads, standby_current_a(site))),
      bank_(make_bank(site, load_switch)),
      state_(start_state(site, bank_)) {}

YearRun Walk::year(const SunYear& sun, const ChargeOffer& offer) {
  YearRun run = run_year(bank_, available_by_day(site_.battery, sun, use_ah_day_), sun, offer,
                         loads_, state_);
  for (const DayBalance& day : run.days) {
    dull_run_days_ = day.charge_ah < day.use_ah ? dull_run_days_ + 1 : 0;
    run.longest_dull_days = std::max(run.longest_dull_days, dull_run_days_);
  }
  return run;
}

}  // namespace amptally
