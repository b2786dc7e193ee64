#include "amptally/levers.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <tuple>

#include <fmt/format.h>

#include "amptally/study.hpp"

#include "parallel.hpp"

namespace amptally {
namespace {

// Chosen, see find_levers.
constexpr double kMostPanel = 8;
constexpr double kMostBattery = 10;
constexpr double kLeastLosses_share = 0.03;
constexpr int kSteepest_deg = 90;

/// The site with one of its quantities at a value.
using Change = std::function<Site(Site site, double value)>;

/// A quantity that can be turned one way.
struct Handle {
  std::string field;
  std::string unit;
  double now;
  std::vector<double> ladder;  // from the step next to now to the limit; not empty
  Change with;
};

// ---- Ladders -------------------------------------------------------------------------------

/// `digits` times ten to the `exponent`, as exact as its decimal form.
double decimal(int digits, int exponent) {
  return exponent < 0 ? digits / std::pow(10, -exponent) : digits * std::pow(10, exponent);
}

/// The numbers of two significant figures from `low` to `high`, both > 0, rising.
std::vector<double> two_figure_numbers(double low, double high) {
  std::vector<double> numbers;
  const int first = static_cast<int>(std::floor(std::log10(low))) - 1;
  for (int exponent = first; decimal(10, exponent) <= high; ++exponent) {
    for (int digits = 10; digits < 100; ++digits) {
      const double value = decimal(digits, exponent);
      if (value >= low && value <= high) numbers.push_back(value);
    }
  }
  return numbers;
}

/// Upwards to `times` as much.
std::vector<double> ladder_up(double now, double times) {
  std::vector<double> ladder = two_figure_numbers(now, times * now);
  std::erase(ladder, now);
  return ladder;
}

/// Downwards to nothing; below a hundredth of now there is only nothing.
std::vector<double> ladder_down(double now) {
  std::vector<double> ladder = two_figure_numbers(now / 100, now);
  std::erase(ladder, now);
  std::reverse(ladder.begin(), ladder.end());
  ladder.push_back(0);
  return ladder;
}

/// Whole per cent below `now`, down to `limit`.
std::vector<double> ladder_of_per_cent(double now, double limit) {
  std::vector<double> ladder;
  for (int per_cent = 100; per_cent >= 0; --per_cent) {
    const double share = per_cent / 100.0;
    if (share < now && share >= limit) ladder.push_back(share);
  }
  return ladder;
}

std::vector<double> ladder_of_degrees(double now_deg, double to_deg) {
  std::vector<double> ladder;
  for (int tilt = 0; tilt <= kSteepest_deg; ++tilt) {
    const bool between = tilt != now_deg && (tilt - now_deg) * (tilt - to_deg) <= 0;
    if (between) ladder.push_back(tilt);
  }
  if (to_deg < now_deg) std::reverse(ladder.begin(), ladder.end());
  return ladder;
}

// ---- Handles -------------------------------------------------------------------------------

Site with_tilt(Site site, double tilt_deg) {
  site.panel.tilt_deg = tilt_deg;
  return site;
}

Site with_losses(Site site, double share) {
  site.panel.losses_share = share;
  return site;
}

Site with_shade_times(Site site, double factor) {
  for (Obstacle& obstacle : site.panel.shade) obstacle.blocks_share *= factor;
  return site;
}

Site with_standby(Site site, double value) {
  site.regulator.standby.value = value;
  return site;
}

Change with_minutes(std::size_t load) {
  return [load](Site site, double minutes) {
    site.loads[load] = with_minutes_a_day(site.loads[load], minutes);
    return site;
  };
}

Change with_draw(std::size_t load) {
  return [load](Site site, double value) {
    site.loads[load].draw.value = value;
    return site;
  };
}

const char* unit_of(const Draw& draw) { return draw.unit == Draw::Unit::watts ? "W" : "A"; }

void add_parts(std::vector<Handle>& handles, const Site& site) {
  const Panel& panel = site.panel;
  const double capacity_ah = site.battery.capacity_ah;
  const Draw& standby = site.regulator.standby;
  const bool shaded = std::any_of(panel.shade.begin(), panel.shade.end(),
                                  [](const Obstacle& o) { return o.blocks_share > 0; });
  if (shaded) {
    handles.push_back({"panel.shade", "%", 1, ladder_of_per_cent(1, 0), with_shade_times});
  }
  if (panel.power_w > 0) {
    handles.push_back({"panel.power", "W", panel.power_w, ladder_up(panel.power_w, kMostPanel),
                       with_panel_power});
  }
  handles.push_back({"panel.losses", "%", panel.losses_share,
                     ladder_of_per_cent(panel.losses_share, kLeastLosses_share), with_losses});
  handles.push_back({"battery.capacity", "Ah", capacity_ah, ladder_up(capacity_ah, kMostBattery),
                     with_battery_capacity});
  if (standby.value > 0) {
    handles.push_back({"regulator.standby", unit_of(standby), standby.value,
                       ladder_down(standby.value), with_standby});
  }
}

void add_loads(std::vector<Handle>& handles, const Site& site) {
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    const Load& load = site.loads[i];
    const double minutes = minutes_a_day(load).value_or(0);
    const bool on_the_clock = std::holds_alternative<Runs>(load.schedule);
    const bool always = std::holds_alternative<AlwaysOn>(load.schedule);
    if (load.draw.value <= 0 || !(always || minutes > 0)) continue;
    if (minutes > 0) {
      handles.push_back({fmt::format("loads[{}].{}", i, on_the_clock ? "runs" : "per_day"), "min",
                         minutes, ladder_down(minutes), with_minutes(i)});
    }
    handles.push_back({fmt::format("loads[{}].draw", i), unit_of(load.draw), load.draw.value,
                       ladder_down(load.draw.value), with_draw(i)});
  }
}

std::vector<Handle> handles_of(const Site& site) {
  std::vector<Handle> handles;
  add_parts(handles, site);
  add_loads(handles, site);
  std::erase_if(handles, [](const Handle& handle) { return handle.ladder.empty(); });
  return handles;
}

// ---- Trying --------------------------------------------------------------------------------

/// How badly a year goes: compared from left to right.
std::tuple<double, double, double, double> badness(const YearBalance& year) {
  return {year.shortfall_days + year.floor_days, year.shortfall_wh, year.deepest_discharge,
          -year.autonomy_days};
}

/// The first step of the ladder that meets the aim; its last where that does not either.
Lever pulled(const Study& study, const Handle& handle) {
  const Site& site = study.base();
  const auto meets = [&](double value) { return study.meets(handle.with(site, value)); };
  Lever lever{.field = handle.field, .unit = handle.unit, .now = handle.now, .to = {}};
  double to = handle.ladder.back();
  lever.reaches_aim = meets(to);
  if (lever.reaches_aim) {
    to = *std::partition_point(handle.ladder.begin(), handle.ladder.end() - 1,
                               [&](double value) { return !meets(value); });
  }
  lever.to = to;
  lever.change_share = handle.now > 0 ? std::abs(to - handle.now) / handle.now : 0;
  lever.year = study.run(handle.with(site, to)).year;
  return lever;
}

/// The whole-degree tilt at which the year goes best, if it has one best: golden-section search
/// (Kiefer 1953, Proceedings of the American Mathematical Society 4, 502) on Fibonacci numbers.
int best_tilt_deg(const Study& study) {
  std::vector<std::optional<YearBalance>> known(kSteepest_deg + 1);
  const auto at = [&](int tilt) {
    std::optional<YearBalance>& year = known[static_cast<std::size_t>(tilt)];
    if (!year) year = study.run(with_tilt(study.base(), tilt)).year;
    return badness(*year);
  };
  int low = 0;
  int high = kSteepest_deg;
  while (high - low > 2) {
    const int third = static_cast<int>(std::lround(0.381966 * (high - low)));  // 2 - golden ratio
    const int left = low + third;
    const int right = std::max(high - third, left + 1);
    (at(right) < at(left) ? low : high) = at(right) < at(left) ? left : right;
  }
  int best = low;
  for (int tilt = low + 1; tilt <= high; ++tilt) {
    if (at(tilt) < at(best)) best = tilt;
  }
  return best;
}

std::optional<Lever> pulled_tilt(const Study& study) {
  const double now_deg = study.base().panel.tilt_deg;
  const int best_deg = best_tilt_deg(study);
  const std::vector<double> ladder = ladder_of_degrees(now_deg, best_deg);
  if (ladder.empty()) return std::nullopt;
  Lever lever = pulled(study, {"panel.tilt", "deg", now_deg, ladder, with_tilt});
  lever.change_share = std::abs(std::get<double>(lever.to) - now_deg) / kSteepest_deg;
  return lever;
}

std::optional<Lever> pulled_kind(const Study& study) {
  const RegulatorKind now = study.base().regulator.kind;
  if (now == RegulatorKind::mppt) return std::nullopt;
  Site site = study.base();
  site.regulator.kind = now == RegulatorKind::none ? RegulatorKind::pwm : RegulatorKind::mppt;
  const Outcome outcome = study.run(site);
  return Lever{.field = "regulator.kind",
               .unit = "",
               .now = now,
               .to = site.regulator.kind,
               .reaches_aim = outcome.meets_aim,
               .change_share = 1,
               .year = outcome.year};
}

/// Whether a year is better than now's in something that is missed now.
bool helps(const Balance& now, const YearBalance& year) {
  return (!now.shortfall_met && year.shortfall_days < now.year.shortfall_days) ||
         (!now.floor_met && year.floor_days < now.year.floor_days) ||
         (!now.autonomy_met && year.autonomy_days > now.year.autonomy_days);
}

bool comes_before(const Lever& a, const Lever& b) {
  if (a.reaches_aim != b.reaches_aim) return a.reaches_aim;
  if (a.reaches_aim) return a.change_share < b.change_share;
  if (a.helps != b.helps) return a.helps;
  return badness(a.year) < badness(b.year);
}

}  // namespace

LeverStudy find_levers(const Site& site, const WeatherChoice& weather) {
  LeverStudy result{.now = simulate(site, weather).balance};
  if (result.now.holds()) return result;
  const Study study(site, weather);
  const std::vector<Handle> handles = handles_of(site);
  // Tilt takes longest and so comes first.
  const int count = static_cast<int>(handles.size()) + 2;
  std::vector<std::optional<Lever>> levers(static_cast<std::size_t>(count));
  in_parallel(count, weather.threads, [&](int i) {
    levers[static_cast<std::size_t>(i)] =
        i == 0   ? pulled_tilt(study)
        : i == 1 ? pulled_kind(study)
                 : pulled(study, handles[static_cast<std::size_t>(i - 2)]);
  });
  for (std::optional<Lever>& lever : levers) {
    if (!lever) continue;
    lever->helps = helps(result.now, lever->year);
    result.levers.push_back(std::move(*lever));
  }
  std::stable_sort(result.levers.begin(), result.levers.end(), comes_before);
  return result;
}

}  // namespace amptally
