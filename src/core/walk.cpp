#include "walk.hpp"

#include <limits>

#include "parallel.hpp"
#include "year_summary.hpp"

namespace amptally {
namespace {

// A month of 365/12 days, h.
constexpr double kHoursPerMonth = kHoursPerYear / 12.0;

Bank make_bank(const Site& site, const LoadSwitch& load_switch) {
  const Battery& battery = site.battery;
  const BatteryType& type = battery_type(battery.kind);
  return {
      .lead_acid = type.is_lead_acid(),
      .capacity_ah = battery.bank_capacity_ah(),
      .charge_efficiency = type.charge_efficiency_share,
      .ten_hour_a = ten_hour_current_a(battery),
      .max_charge_ah =
          battery.max_charge_current_a.value_or(std::numeric_limits<double>::infinity()),
      .self_discharge = battery.self_discharge_pct_month.value_or(type.self_discharge_pct_month) /
                        100 / kHoursPerMonth,
      .standby_ah = standby_current_a(site),
      .load_switch = load_switch};
}

// What can be had on each day, at its temperature and its month's use, Ah.
std::vector<double> available_by_day(const Battery& battery, const SunYear& sun,
                                     const Monthly& use_ah_day) {
  std::vector<double> available;
  available.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    available.push_back(available_ah(battery,
                                     sun.days[static_cast<std::size_t>(day - 1)].air_temp_c,
                                     use_ah_day[static_cast<std::size_t>(month_of_day(day))]));
  }
  return available;
}

MadeYear make_year(const Site& site, const Simulation& prepared, const WeatherChoice& weather,
                   int year) {
  MadeYear made;
  switch (weather.mode) {
    case WeatherMode::mean:
      made.sun = prepared.sun;
      break;
    case WeatherMode::synthetic:
      made.sun = synthetic_sun_year(prepared.sky, weather.seed, year);
      break;
    case WeatherMode::file:
      made.sun = series_sun_year(prepared.sky, *weather.series, year);
      break;
  }
  made.offer = charge_offer(site, made.sun);
  return made;
}

}  // namespace

std::vector<MadeYear> make_years(const Site& site, const Simulation& prepared,
                                 const WeatherChoice& weather, int first, int count) {
  std::vector<MadeYear> years(static_cast<std::size_t>(count));
  in_parallel(count, weather.threads, [&](int i) {
    years[static_cast<std::size_t>(i)] = make_year(site, prepared, weather, first + i);
  });
  return years;
}

Monthly use_by_month(const LoadProfile& loads, double standby_a) {
  Monthly use{};
  for (int m = 0; m < 12; ++m) {
    const auto from = static_cast<std::size_t>(first_day_of_month(m) - 1) * kHoursPerDay;
    const auto hours = static_cast<std::size_t>(days_in_month(m)) * kHoursPerDay;
    double sum = 0;
    for (std::size_t h = from; h < from + hours; ++h) sum += loads.asked_ah[h];
    use[static_cast<std::size_t>(m)] = sum / days_in_month(m) + standby_a * kHoursPerDay;
  }
  return use;
}

Walk::Walk(const Site& site, const LoadProfile& loads, const LoadSwitch& load_switch)
    : site_(site),
      loads_(loads),
      use_ah_day_(use_by_month(loads, standby_current_a(site))),
      bank_(make_bank(site, load_switch)),
      state_{.taken_ah = (1 - site.battery.start_share) * bank_.capacity_ah, .connected = true} {}

YearRun Walk::year(const SunYear& sun, const ChargeOffer& offer) {
  return run_year(bank_, available_by_day(site_.battery, sun, use_ah_day_), sun, offer, loads_,
                  state_);
}

}  // namespace amptally
