#include "balance/schedules.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "amptally/water.hpp"

// All that the program asks of a schedule, kind by kind. A new kind is a struct in site.hpp, a part
// of this file with the same five functions (the compiler names the one that is missing), and a row
// of sitefile/read_schedules.cpp.
namespace amptally::inline v0_1 {
namespace {

// The year of a load, to be filled in.
struct LoadYear {
  const Site& site;
  const Load& load;
  const std::string& field;  // its schedule's place in the site
  const std::vector<DayGeometry>& geometry;
  std::vector<double> on_share;  // of each hour
  std::vector<Assumption>& said;
};

bool runs_on(const Load& load, int day) {
  return load.months.test(static_cast<std::size_t>(month_of_day(day))) &&
         (day - 1) % load.every_days == 0;
}

// Calls `add` with each day, 0..364, on which the load runs.
template <class Add>
void each_day(const Load& load, Add add) {
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    if (runs_on(load, static_cast<int>(d) + 1)) add(d);
  }
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

// ---- Always on -----------------------------------------------------------------------------

std::string_view name_of(const AlwaysOn&) { return "always"; }

void add_hours(const AlwaysOn&, LoadYear& year) {
  each_day(year.load, [&](std::size_t d) { add_run(year.on_share, d, 0, kMinutesPerDay); });
}

std::optional<double> minutes_of(const AlwaysOn&) { return std::nullopt; }
void set_minutes(AlwaysOn&, double) {}
bool has_own_time(const AlwaysOn&) { return true; }

// ---- So long each day ----------------------------------------------------------------------

std::string_view name_of(const PerDay&) { return "per_day"; }

// Longest time that a daylight (or night) load misses on any day of its year.
struct ShortDay {
  double missing_min = 0;
  int month = 0;
  double window_min = 0;
};

ShortDay spread_over_window(const PerDay& per_day, LoadYear& year) {
  ShortDay worst;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const int day = static_cast<int>(d) + 1;
    if (!runs_on(year.load, day)) continue;
    std::array<double, kHoursPerDay> window{};
    window.fill(1);
    if (per_day.when != When::any) {
      for (std::size_t h = 0; h < kHoursPerDay; ++h) {
        const double lit = year.geometry[d].hours[h].lit_share;
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
      year.on_share[d * kHoursPerDay + h] += window[h] * density;
    }
  }
  return worst;
}

void add_hours(const PerDay& per_day, LoadYear& year) {
  const ShortDay worst = spread_over_window(per_day, year);
  // A minute is as fine as a schedule is meant.
  if (worst.missing_min <= 1) return;
  year.said.push_back({AssumptionKind::load,
                       fmt::format("{}: \"{}\" asks {:.1f} h of {}, {} has {:.1f} h of it: it runs "
                                   "that long there.",
                                   year.field, year.load.name, per_day.minutes / kMinutesPerHour,
                                   per_day.when == When::day ? "daylight" : "night",
                                   kMonthNames[static_cast<std::size_t>(worst.month)],
                                   worst.window_min / kMinutesPerHour)});
}

std::optional<double> minutes_of(const PerDay& per_day) { return per_day.minutes; }
void set_minutes(PerDay& per_day, double minutes) { per_day.minutes = minutes; }
bool has_own_time(const PerDay& per_day) { return per_day.minutes > 0; }

// ---- Runs on the clock ---------------------------------------------------------------------

std::string_view name_of(const Runs&) { return "runs"; }

void add_hours(const Runs& runs, LoadYear& year) {
  each_day(year.load, [&](std::size_t d) {
    for (const Run& run : runs.runs) add_run(year.on_share, d, run.at_min, run.for_minutes);
  });
}

std::optional<double> minutes_of(const Runs& runs) {
  return std::accumulate(runs.runs.begin(), runs.runs.end(), 0.0,
                         [](double sum, const Run& run) { return sum + run.for_minutes; });
}

void set_minutes(Runs& runs, double minutes) {
  const double before = *minutes_of(runs);
  for (Run& run : runs.runs) {
    run.for_minutes = before > 0 ? run.for_minutes * minutes / before
                                 : minutes / static_cast<double>(runs.runs.size());
  }
}

bool has_own_time(const Runs& runs) { return *minutes_of(runs) > 0; }

// ---- As a water line needs it --------------------------------------------------------------

std::string_view name_of(const FromWater&) { return "from_water"; }

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

void add_hours(const FromWater&, LoadYear& year) {
  const Monthly minutes = from_water_minutes_day(year.site, year.load, year.field);
  each_day(year.load, [&](std::size_t d) {
    const int month = month_of_day(static_cast<int>(d) + 1);
    add_watering(year.on_share, d, minutes[static_cast<std::size_t>(month)], year.geometry[d]);
  });
}

std::optional<double> minutes_of(const FromWater&) { return std::nullopt; }
void set_minutes(FromWater&, double) {}
bool has_own_time(const FromWater&) { return false; }

}  // namespace

// ---- Whatever the kind ---------------------------------------------------------------------

std::vector<double> hours_on(const Site& site, const Load& load, const std::string& field,
                             const std::vector<DayGeometry>& geometry,
                             std::vector<Assumption>& said) {
  LoadYear year{.site = site,
                .load = load,
                .field = field,
                .geometry = geometry,
                .on_share = std::vector<double>(kHoursPerYear, 0.0),
                .said = said};
  std::visit([&](const auto& kind) { add_hours(kind, year); }, load.schedule);
  return std::move(year.on_share);
}

std::string_view schedule_field(const Load& load) {
  return std::visit([](const auto& kind) { return name_of(kind); }, load.schedule);
}

bool chooses_its_time(const Load& load) {
  return std::visit([](const auto& kind) { return has_own_time(kind); }, load.schedule);
}

bool has_a_day(const Load& load) {
  bool has = false;
  each_day(load, [&](std::size_t) { has = true; });
  return has;
}

std::optional<double> minutes_a_day(const Load& load) {
  return std::visit([](const auto& kind) { return minutes_of(kind); }, load.schedule);
}

Load with_minutes_a_day(Load load, double minutes) {
  std::visit([&](auto& kind) { set_minutes(kind, minutes); }, load.schedule);
  return load;
}

}  // namespace amptally::inline v0_1
