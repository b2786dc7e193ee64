#include "amptally/balance.hpp"

#include <algorithm>

#include "balance/aim.hpp"
#include "balance/ordered_pipeline.hpp"
#include "balance/unchecked.hpp"
#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: a yearly loss of charge smaller than this share of capacity is not worth a word.
constexpr double kSinkingShare = 0.005;

std::vector<Use> uses(const LoadProfile& loads, double volts, double standby_a) {
  std::vector<Use> out;
  double total = standby_a * kHoursPerDay;
  for (const double ah : loads.load_ah) total += ah / kDaysPerYear;
  const auto add = [&](const std::string& name, double ah_day) {
    out.push_back({name, ah_day, ah_day * volts, total > 0 ? ah_day / total : 0});
  };
  for (std::size_t i = 0; i < loads.names.size(); ++i) {
    add(loads.names[i], loads.load_ah[i] / kDaysPerYear);
  }
  add(std::string(kStandbyUse), standby_a * kHoursPerDay);
  std::stable_sort(out.begin(), out.end(),
                   [](const Use& a, const Use& b) { return a.ah_day > b.ah_day; });
  return out;
}

void append(std::vector<Assumption>& to, const std::vector<Assumption>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

// The same years over and over, until they end as they began; the summary has the last pass.
YearSummary repeat_until_steady(YearSequence& system, const std::vector<PreparedYear>& years,
                                const SummaryInput& input, Balance& balance) {
  for (int pass = 1;; ++pass) {
    YearSummary summary(input);
    const StateOf<double> before = system.state();
    for (const PreparedYear& year : years) summary.add(system.run_year(year.sun, year.offer));
    const double change = (before.taken_ah - system.state().taken_ah) / system.capacity_ah();
    const double change_a_year = change / static_cast<double>(years.size());
    // The first pass may only settle from where it started; what the second still loses is lost
    // every year, until the battery is down.
    if (pass == 2 && change_a_year < -kSinkingShare) balance.sinks_share_a_year = -change_a_year;
    balance.years_to_steady += static_cast<int>(years.size());
    if (is_last_pass(pass, before, system.state(), system.capacity_ah())) return summary;
  }
}

YearSummary run_synthetic(YearSequence& system, const Site& site, const Simulation& prepared,
                          const WeatherChoice& weather, const SummaryInput& input) {
  YearSummary summary(input);
  const bool runs_in = !site.battery.start_share;
  ordered_pipeline(
      weather.years, weather.threads,
      [&](int year) { return prepare_year(site, prepared, weather, year); },
      [&](const PreparedYear& made, int year) {
        if (year == 0 && runs_in) (void)system.run_year(made.sun, made.offer);
        summary.add(system.run_year(made.sun, made.offer));
      });
  return summary;
}

}  // namespace

Simulation prepare(const Site& site) {
  require_valid(site);
  Simulation sim;
  sim.sky = site_sky(site.place, panel_plane(site));
  sim.sun = mean_sun_year(sim.sky);
  sim.rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  sim.offer = charge_offer(site, sim.sun);
  sim.loads = unchecked_load_profile(site, sim.sky.geometry);
  sim.load_switch = load_switch(site, largest_draw_a(sim.loads));
  return sim;
}

Balance simulate_prepared(const Site& site, const Simulation& prepared,
                          const WeatherChoice& weather) {
  require_valid(site, weather);
  Balance balance;
  balance.weather = weather.mode;
  balance.seed = weather.seed;
  balance.aim = resolve_aim(site, weather.mode);
  const double standby_a = standby_current_a(site);
  YearSequence system(site, prepared.loads, prepared.load_switch, balance.aim.floor_share);
  const SummaryInput input = {.battery = &site.battery,
                              .air_temp_c = site.place.air_temp_c,
                              .use_ah_day = system.use_ah_day(),
                              .standby_a = standby_a,
                              .autonomy_share = autonomy_shares(site, prepared.loads.largest_draw_a,
                                                                balance.aim.floor_share)};
  if (weather.mode == WeatherMode::synthetic) {
    run_synthetic(system, site, prepared, weather, input).finish(balance);
  } else {
    // All years are kept, since they are gone through again and again; synthetic ones pass once.
    const auto years = prepare_years(site, prepared, weather);
    repeat_until_steady(system, years, input, balance).finish(balance);
  }
  balance.uses = uses(prepared.loads, site.battery.bank_voltage_v(), standby_a);
  const Judgement judged = judge(balance.year, balance.aim);
  balance.autonomy_met = judged.autonomy_met;
  balance.shortfall_met = judged.shortfall_met;
  balance.floor_met = judged.floor_met;
  append(balance.assumptions, site.assumptions);
  append(balance.assumptions, prepared.rating.assumptions);
  append(balance.assumptions, prepared.loads.assumptions);
  const bool by_the_hour = weather.mode == WeatherMode::file && weather.series->hourly;
  const auto rough_plane = plane_error(site.place, panel_plane(site));
  if (rough_plane && !by_the_hour) balance.assumptions.push_back(*rough_plane);
  return balance;
}

Simulation simulate(const Site& site, const WeatherChoice& weather) {
  require_valid(site, weather);
  Simulation sim = prepare(site);
  sim.balance = simulate_prepared(site, sim, weather);
  return sim;
}

}  // namespace amptally::inline v0_1
