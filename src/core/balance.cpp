#include "amptally/balance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <thread>

#include "year_summary.hpp"
#include "year_walk.hpp"

namespace amptally {
namespace {

// A month of 365/12 days, h.
constexpr double kHoursPerMonth = kHoursPerYear / 12.0;

// Chosen: a year ends as it began when the charge differs by less than this share of capacity.
constexpr double kSteadyShare = 1e-10;
constexpr int kMostPasses = 60;

// Chosen: a yearly loss of charge smaller than this share of capacity is not worth a word.
constexpr double kSinkingShare = 0.005;

// Chosen: years made before they are walked, so that threads can share the making and memory stays
// small however many years there are.
constexpr int kYearsAtOnce = 16;

// Mean daily use of each month, Ah.
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

std::vector<Use> uses(const Site& site, const LoadProfile& loads, double standby_a) {
  const double volts = site.battery.bank_voltage_v();
  std::vector<Use> out;
  double total = standby_a * kHoursPerDay;
  for (const double ah : loads.load_ah) total += ah / kDaysPerYear;
  const auto add = [&](const std::string& name, double ah_day) {
    out.push_back({name, ah_day, ah_day * volts, total > 0 ? ah_day / total : 0});
  };
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    add(site.loads[i].name, loads.load_ah[i] / kDaysPerYear);
  }
  add("regulator standby", standby_a * kHoursPerDay);
  std::stable_sort(out.begin(), out.end(),
                   [](const Use& a, const Use& b) { return a.ah_day > b.ah_day; });
  return out;
}

// Common practice, no source: three days a year are put up with where the weather is real.
constexpr double kUsualShortfallDays = 3;

ResolvedAim resolve_aim(const Site& site, WeatherMode weather) {
  return {.autonomy_days = site.aim.autonomy_days,
          .shortfall_days = site.aim.shortfall_days.value_or(
              weather == WeatherMode::mean ? 0 : kUsualShortfallDays),
          .floor_share = site.aim.floor_share.value_or(site.battery.floor_share)};
}

void append(std::vector<std::string>& to, const std::vector<std::string>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

// A year ready to be walked.
struct MadeYear {
  SunYear sun;
  ChargeOffer offer;
};

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

std::vector<MadeYear> make_years(const Site& site, const Simulation& prepared,
                                 const WeatherChoice& weather, int first, int count) {
  std::vector<MadeYear> years(static_cast<std::size_t>(count));
  const int threads = std::clamp(weather.threads, 1, count);
  const auto make_every = [&](int from) {
    for (int i = from; i < count; i += threads) {
      years[static_cast<std::size_t>(i)] = make_year(site, prepared, weather, first + i);
    }
  };
  std::vector<std::jthread> helpers;
  for (int t = 1; t < threads; ++t) helpers.emplace_back(make_every, t);
  make_every(0);
  return years;  // the threads are joined here
}

// Walks years for a balance, keeping the state between them.
class Walk {
 public:
  Walk(const Site& site, const Simulation& prepared, const Monthly& use_ah_day)
      : site_(site),
        prepared_(prepared),
        use_ah_day_(use_ah_day),
        bank_(make_bank(site, prepared.load_switch)),
        state_{.taken_ah = (1 - site.battery.start_share) * bank_.capacity_ah, .connected = true} {}

  YearRun year(const MadeYear& made) {
    return run_year(bank_, available_by_day(site_.battery, made.sun, use_ah_day_), made.sun,
                    made.offer, prepared_.loads, state_);
  }

  [[nodiscard]] const State& state() const { return state_; }
  [[nodiscard]] double capacity_ah() const { return bank_.capacity_ah; }

 private:
  const Site& site_;
  const Simulation& prepared_;
  const Monthly& use_ah_day_;
  Bank bank_;
  State state_;
};

// The same years over and over, until they end as they began; the summary has the last pass.
YearSummary repeat_until_steady(Walk& walk, const std::vector<MadeYear>& years,
                                const SummaryInput& input, Balance& balance) {
  for (int pass = 1;; ++pass) {
    YearSummary summary(input);
    const State before = walk.state();
    for (const MadeYear& year : years) summary.add(walk.year(year));
    const double change = (before.taken_ah - walk.state().taken_ah) / walk.capacity_ah();
    const double change_a_year = change / static_cast<double>(years.size());
    // The first pass may only settle from where it started; what the second still loses is lost
    // every year, until the battery is down.
    if (pass == 2 && change_a_year < -kSinkingShare) balance.sinks_share_a_year = -change_a_year;
    balance.years_to_steady += static_cast<int>(years.size());
    const bool steady =
        std::abs(change) <= kSteadyShare && walk.state().connected == before.connected;
    if (steady || pass == kMostPasses) return summary;
  }
}

YearSummary run_synthetic(Walk& walk, const Site& site, const Simulation& prepared,
                          const WeatherChoice& weather, const SummaryInput& input) {
  YearSummary summary(input);
  for (int first = 0; first < weather.years; first += kYearsAtOnce) {
    const int count = std::min(kYearsAtOnce, weather.years - first);
    const auto made = make_years(site, prepared, weather, first, count);
    if (first == 0) (void)walk.year(made[0]);  // runs in
    for (const MadeYear& year : made) summary.add(walk.year(year));
  }
  return summary;
}

}  // namespace

Simulation prepare(const Site& site) {
  Simulation sim;
  sim.sky = site_sky(site.place, panel_plane(site));
  sim.sun = mean_sun_year(sim.sky);
  sim.rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  sim.offer = charge_offer(site, sim.sun);
  sim.loads = load_profile(site, sim.sky.geometry);
  sim.load_switch = load_switch(site, sim.loads.running_current_a);
  return sim;
}

Balance balance_over(const Site& site, const Simulation& prepared, const WeatherChoice& weather) {
  Balance balance;
  balance.weather = weather.mode;
  balance.seed = weather.seed;
  balance.aim = resolve_aim(site, weather.mode);
  const double standby_a = standby_current_a(site);
  const Monthly use_ah_day = use_by_month(prepared.loads, standby_a);
  const SummaryInput input = {.battery = &site.battery,
                              .air_temp_c = site.place.air_temp_c,
                              .use_ah_day = use_ah_day,
                              .standby_a = standby_a,
                              .floor_share = balance.aim.floor_share};
  Walk walk(site, prepared, use_ah_day);
  if (weather.mode == WeatherMode::synthetic) {
    run_synthetic(walk, site, prepared, weather, input).finish(balance);
  } else {
    const int years = weather.mode == WeatherMode::file ? weather.series->years : 1;
    repeat_until_steady(walk, make_years(site, prepared, weather, 0, years), input, balance)
        .finish(balance);
  }
  balance.uses = uses(site, prepared.loads, standby_a);
  balance.autonomy_met = balance.year.autonomy_days >= balance.aim.autonomy_days;
  balance.shortfall_met = balance.year.shortfall_days <= balance.aim.shortfall_days;
  // Days below the floor are put up with as days of shortfall are.
  balance.floor_met = balance.year.floor_days <= balance.aim.shortfall_days;
  append(balance.assumptions, site.assumptions);
  append(balance.assumptions, prepared.rating.assumptions);
  append(balance.assumptions, prepared.loads.assumptions);
  return balance;
}

Simulation simulate(const Site& site, const WeatherChoice& weather) {
  Simulation sim = prepare(site);
  sim.balance = balance_over(site, sim, weather);
  return sim;
}

}  // namespace amptally
