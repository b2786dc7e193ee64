#include "amptally/load_profile.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "amptally/sun.hpp"
#include "amptally/water.hpp"

namespace amptally {
namespace {

template <class... F>
struct Cases : F... {
  using F::operator()...;
};
template <class... F>
Cases(F...) -> Cases<F...>;

bool runs_on(const Load& load, int day) {
  return load.months.test(static_cast<std::size_t>(month_of_day(day))) &&
         (day - 1) % load.every_days == 0;
}

// Adds a run of `minutes` from `start_min` after midnight of day `d` (0..364) to the hours it
// covers; past 31 December it goes on at 1 January, as in a year that repeats.
void add_run(std::vector<double>& on_share, std::size_t d, double start_min, double minutes) {
  double at = start_min;
  double left = minutes;
  while (left > 1e-9) {
    const double hour = std::floor(at / kMinutesPerHour);
    const double part = std::min(left, (hour + 1) * kMinutesPerHour - at);
    const std::size_t index = (d * kHoursPerDay + static_cast<std::size_t>(hour)) % kHoursPerYear;
    on_share[index] += part / kMinutesPerHour;
    at += part;
    left -= part;
  }
}

// Longest time that a daylight (or night) load misses on any day of its year.
struct ShortDay {
  double missing_min = 0;
  int month = 0;
  double window_min = 0;
};

ShortDay add_per_day(const Load& load, const PerDay& per_day,
                     const std::vector<DayGeometry>& geometry, std::vector<double>& on_share) {
  ShortDay worst;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const int day = static_cast<int>(d) + 1;
    if (!runs_on(load, day)) continue;
    std::array<double, kHoursPerDay> window{};
    window.fill(1);
    if (per_day.when != When::any) {
      for (std::size_t h = 0; h < kHoursPerDay; ++h) {
        const double lit = geometry[d].hours[h].lit_share;
        window[h] = per_day.when == When::day ? lit : 1 - lit;
      }
    }
    double window_min = 0;
    for (const double share : window) window_min += share * kMinutesPerHour;
    const double missing = per_day.minutes - window_min;
    if (missing > worst.missing_min) worst = {missing, month_of_day(day), window_min};
    if (window_min <= 0) continue;
    const double density = std::min(per_day.minutes, window_min) / window_min;
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      on_share[d * kHoursPerDay + h] += window[h] * density;
    }
  }
  return worst;
}

// Spreads `minutes`, at most a day's, over the daylight of day `d` (0..364), and what that cannot
// hold over the night.
void add_watering(std::vector<double>& on_share, std::size_t d, double minutes,
                  const DayGeometry& geometry) {
  double day_min = 0;
  for (const HourGeometry& hour : geometry.hours) day_min += hour.lit_share * kMinutesPerHour;
  const double night_min = kMinutesPerDay - day_min;
  const double in_light = std::min(minutes, day_min);
  const double by_day = day_min > 0 ? in_light / day_min : 0;
  const double by_night = night_min > 0 ? (minutes - in_light) / night_min : 0;
  for (std::size_t h = 0; h < kHoursPerDay; ++h) {
    const double lit = geometry.hours[h].lit_share;
    on_share[d * kHoursPerDay + h] += lit * by_day + (1 - lit) * by_night;
  }
}

// Share of each of the 8,760 hours in which the load is on.
// @param field  the load's place in the site, for messages, with its dot
std::vector<double> on_shares(const Site& site, const Load& load, const std::string& field,
                              const std::vector<DayGeometry>& geometry,
                              std::vector<Assumption>& said) {
  std::vector<double> on(kHoursPerYear, 0.0);
  const auto each_day = [&](auto&& add) {
    for (std::size_t d = 0; d < kDaysPerYear; ++d) {
      if (runs_on(load, static_cast<int>(d) + 1)) add(d);
    }
  };
  std::visit(
      Cases{[&](const AlwaysOn&) {
              each_day([&](std::size_t d) { add_run(on, d, 0, kMinutesPerDay); });
            },
            [&](const PerDay& per_day) {
              const ShortDay worst = add_per_day(load, per_day, geometry, on);
              // A minute is as fine as a schedule is meant.
              if (worst.missing_min > 1) {
                said.push_back(
                    {AssumptionKind::load,
                     fmt::format(
                         "{}per_day: \"{}\" asks {:.1f} h of {}, {} has {:.1f} h of it: it runs "
                         "that long there.",
                         field, load.name, per_day.minutes / kMinutesPerHour,
                         per_day.when == When::day ? "daylight" : "night",
                         kMonthNames[static_cast<std::size_t>(worst.month)],
                         worst.window_min / kMinutesPerHour)});
              }
            },
            [&](const Runs& runs) {
              each_day([&](std::size_t d) {
                for (const Run& run : runs.runs) add_run(on, d, run.at_min, run.for_minutes);
              });
            },
            [&](const FromWater&) {
              const Monthly minutes = from_water_minutes_day(site, load, field + "from_water");
              each_day([&](std::size_t d) {
                const int month = month_of_day(static_cast<int>(d) + 1);
                add_watering(on, d, minutes[static_cast<std::size_t>(month)], geometry[d]);
              });
            }},
      load.schedule);
  return on;
}

}  // namespace

LoadProfile load_profile(const Site& site, const std::vector<DayGeometry>& geometry) {
  LoadProfile profile;
  profile.asked_ah.assign(kHoursPerYear, 0.0);
  const double volts = site.battery.bank_voltage_v();
  double running_ah = 0;
  std::vector<double> running_share(kHoursPerYear, 0.0);
  std::vector<Load> loads = site.loads;
  for (Load& valve : valve_loads(site)) loads.push_back(std::move(valve));
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const Load& load = loads[i];
    const double on_a = load.draw.current_a(volts) * load.count;
    const double off_a = load.idle ? load.idle->current_a(volts) * load.count : 0;
    const std::vector<double> on =
        on_shares(site, load, fmt::format("loads[{}].", i), geometry, profile.assumptions);
    double total_ah = 0;
    for (std::size_t h = 0; h < kHoursPerYear; ++h) {
      const double ah = on_a * on[h] + off_a * std::max(0.0, 1 - on[h]);
      profile.asked_ah[h] += ah;
      total_ah += ah;
      running_ah += on_a * on[h];
      running_share[h] = std::max(running_share[h], on[h]);
    }
    profile.names.push_back(load.name);
    profile.load_ah.push_back(total_ah);
  }
  double running_h = 0;
  for (const double share : running_share) running_h += std::min(share, 1.0);
  profile.running_current_a = running_h > 0 ? running_ah / running_h : 0;
  return profile;
}

}  // namespace amptally
