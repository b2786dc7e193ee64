#include "amptally/load_profile.hpp"

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "amptally/load.hpp"
#include "amptally/sun.hpp"
#include "amptally/validate.hpp"
#include "amptally/water.hpp"

#include "balance/schedules.hpp"
#include "balance/unchecked.hpp"

namespace amptally::inline v0_1 {

namespace {

// Tells the hours' different draws apart.
void set_draws(LoadProfile& profile, const std::vector<double>& draw_a) {
  std::map<double, std::uint16_t> known;
  profile.draw_of_hour.reserve(draw_a.size());
  for (std::size_t h = 0; h < draw_a.size(); ++h) {
    const bool as_before = h > 0 && draw_a[h] == draw_a[h - 1];
    if (as_before) {
      profile.draw_of_hour.push_back(profile.draw_of_hour.back());
      continue;
    }
    const auto [it, is_new] =
        known.try_emplace(draw_a[h], static_cast<std::uint16_t>(profile.draws_a.size()));
    if (is_new) profile.draws_a.push_back(draw_a[h]);
    profile.draw_of_hour.push_back(it->second);
  }
  for (std::size_t m = 0; m < profile.largest_draw_a.size(); ++m) {
    const auto from = draw_a.begin() + (first_day_of_month(static_cast<int>(m)) - 1) * kHoursPerDay;
    const auto hours = days_in_month(static_cast<int>(m)) * kHoursPerDay;
    profile.largest_draw_a[m] = *std::max_element(from, from + hours);
  }
}

// Below this share of a draw what is left of it is rounding.
constexpr double kRounding = 1e-9;

// Takes an hour's charge for a run at its draw and a rest at what flows all hour.
void add_run(LoadProfile& profile, double asked_ah, double draw_a, double steady_a) {
  const double more_a = draw_a - steady_a;
  const double share = more_a > kRounding * draw_a ? (asked_ah - steady_a) / more_a : 1;
  const bool runs_in_part = share > kRounding && share < 1 - kRounding;
  profile.run_share.push_back(runs_in_part ? share : 0);
  profile.run_ah.push_back(runs_in_part ? share * draw_a : 0);
}

// Where the site says when the `i`th of its profiled loads runs. A valve stands behind the loads of
// the file, where no reader finds it: its line's demand says how long it is open.
std::string field_of_schedule(const Site& site, const Load& load, std::size_t i) {
  if (i < site.loads.size()) return fmt::format("loads[{}].{}", i, schedule_field(load));
  const auto& lines = site.water->lines;
  const auto line = std::find_if(lines.begin(), lines.end(), [&](const WaterLine& of_site) {
    return of_site.name == std::get<FromWater>(load.schedule).line;
  });
  return fmt::format("water.lines[{}].demand", line - lines.begin());
}

}  // namespace

std::vector<Load> profiled_loads(const Site& site) {
  std::vector<Load> loads = site.loads;
  // Behind them, so that a load has the same index in the site: answers/wiring.cpp relies on it.
  for (Load& valve : valve_loads(site)) loads.push_back(std::move(valve));
  return loads;
}

double largest_draw_a(const LoadProfile& profile) {
  return *std::max_element(profile.largest_draw_a.begin(), profile.largest_draw_a.end());
}

LoadProfile load_profile(const Site& site, const std::vector<DayGeometry>& geometry) {
  require_valid(site);
  return unchecked_load_profile(site, geometry);
}

LoadProfile unchecked_load_profile(const Site& site, const std::vector<DayGeometry>& geometry) {
  LoadProfile profile;
  profile.asked_ah.assign(kHoursPerYear, 0.0);
  const double volts = site.battery.bank_voltage_v();
  std::vector<double> draw_a(kHoursPerYear, 0.0);
  std::vector<double> steady_a(kHoursPerYear, 0.0);
  const std::vector<Load> loads = profiled_loads(site);
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const Load& load = loads[i];
    const double on_a = load.draw.current_a(volts) * load.count;
    const double off_a = load.idle ? load.idle->current_a(volts) * load.count : 0;
    const std::vector<double> on =
        hours_on(site, load, field_of_schedule(site, load, i), geometry, profile.assumptions);
    double total_ah = 0;
    for (std::size_t h = 0; h < kHoursPerYear; ++h) {
      // Runs that overlap come to more than the whole hour: their draws add up, and nothing idles.
      const double ah = on_a * on[h] + off_a * std::max(0.0, 1 - on[h]);
      profile.asked_ah[h] += ah;
      total_ah += ah;
      // Loads of one hour are taken to run at the same time: their draws add up.
      draw_a[h] += on[h] > 0 ? on_a * std::max(1.0, on[h]) : off_a;
      steady_a[h] += on[h] < 1 ? off_a : on_a * on[h];
    }
    profile.names.push_back(load.name);
    profile.load_ah.push_back(total_ah);
  }
  set_draws(profile, draw_a);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    add_run(profile, profile.asked_ah[h], draw_a[h], steady_a[h]);
  }
  return profile;
}

}  // namespace amptally::inline v0_1
