#include "amptally/part_sets.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/size.hpp"

#include "answers/severity.hpp"
#include "answers/unchecked_study.hpp"
#include "balance/aim.hpp"
#include "balance/parallel_for.hpp"
#include "balance/year_sequence.hpp"
#include "parts/electrical_limits.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: what a small installation is still wired as.
constexpr int kMostPanelsInSeries = 3;
constexpr int kMostStrings = 6;
constexpr int kMostBatteriesInParallel = 4;

// Sets judged at a time. Fixed, so that the same sets are run whatever the number of threads.
constexpr std::size_t kBatch = 8;

// How far batteries may be from the bank's voltage: four lithium cells, 12.8 V, serve as 12 V.
// Common practice, no source.
constexpr double kVoltageTolerance = 0.08;

// Batteries in series that make up the bank's voltage; 0 where they do not.
int series_for(const Battery& battery, double bank_v) {
  const int series = std::max(1, static_cast<int>(std::lround(bank_v / battery.voltage_v)));
  const double off_v = std::abs(series * battery.voltage_v - bank_v);
  return off_v <= kVoltageTolerance * bank_v ? series : 0;
}

double cost_of(const PartsList& list, const PartsSet& set) {
  return set.panels() * list.panels[set.panel].price +
         set.batteries() * list.batteries[set.battery].price + list.regulators[set.regulator].price;
}

// All wirings of one choice of parts.
void add_wirings(const PartsList& list, const PartsSet& parts, std::vector<PartsSet>& sets) {
  for (int series = 1; series <= kMostPanelsInSeries; ++series) {
    for (int strings = 1; strings <= kMostStrings; ++strings) {
      for (int parallel = 1; parallel <= kMostBatteriesInParallel; ++parallel) {
        PartsSet set = parts;
        set.panel_series = series;
        set.panel_strings = strings;
        set.battery_parallel = parallel;
        set.cost = cost_of(list, set);
        sets.push_back(set);
      }
    }
  }
}

std::vector<PartsSet> sets_by_cost(const PartsList& list, double bank_v) {
  std::vector<PartsSet> sets;
  for (std::size_t b = 0; b < list.batteries.size(); ++b) {
    const int series = series_for(list.batteries[b].battery, bank_v);
    if (series == 0) continue;
    for (std::size_t p = 0; p < list.panels.size(); ++p) {
      for (std::size_t r = 0; r < list.regulators.size(); ++r) {
        add_wirings(list, {.panel = p, .battery = b, .regulator = r, .battery_series = series},
                    sets);
      }
    }
  }
  std::stable_sort(sets.begin(), sets.end(),
                   [](const PartsSet& x, const PartsSet& y) { return x.cost < y.cost; });
  return sets;
}

// What has been learned so far: by parts and panels in series, the strings and batteries that
// missed the aim, and those that met it.
class Learned {
 public:
  void add(const PartsSet& set, bool meets_aim) {
    (meets_aim ? met_ : missed_)[key(set)].push_back(amounts(set));
  }

  /// Whether a set is no more than one that missed, or no less than a cheaper one that met.
  [[nodiscard]] bool rule_out(const PartsSet& set) const {
    const Amounts own = amounts(set);
    return any(missed_, set, [&](const Amounts& missed) { return no_more(own, missed); }) ||
           any(met_, set, [&](const Amounts& met) { return no_more(met, own); });
  }

 private:
  using Key = std::tuple<std::size_t, std::size_t, std::size_t, int>;
  using Amounts = std::pair<int, int>;
  using Known = std::map<Key, std::vector<Amounts>>;

  static Key key(const PartsSet& set) {
    return {set.panel, set.battery, set.regulator, set.panel_series};
  }
  static Amounts amounts(const PartsSet& set) { return {set.panel_strings, set.battery_parallel}; }
  static bool no_more(const Amounts& a, const Amounts& b) {
    return a.first <= b.first && a.second <= b.second;
  }
  template <class Test>
  static bool any(const Known& known, const PartsSet& set, const Test& test) {
    const auto it = known.find(key(set));
    return it != known.end() && std::any_of(it->second.begin(), it->second.end(), test);
  }

  Known missed_;
  Known met_;
};

class PartsSearch {
 public:
  PartsSearch(const Site& site, const PartsList& list, const WeatherChoice& weather)
      : site_(site),
        list_(list),
        study_(site, weather),
        aim_(resolve_aim(site, weather.mode)),
        hottest_air_c_(hottest_hour_c(site)) {}

  PartsChoice run();

 private:
  static double hottest_hour_c(const Site& site) {
    const SunYear year = mean_sun_year(site_sky(site.place, panel_plane(site)));
    return *std::max_element(year.air_temp_c.begin(), year.air_temp_c.end());
  }

  void judge_batch(const std::vector<PartsSet>& batch);
  void take(const JudgedSet& judged);
  [[nodiscard]] auto distance(const JudgedSet& judged) const;
  void keep_telling_misses();

  const Site& site_;
  const PartsList& list_;
  Study study_;
  ResolvedAim aim_;
  double hottest_air_c_;
  Learned learned_;
  PartsChoice choice_;
};

void PartsSearch::take(const JudgedSet& judged) {
  // A broken limit says nothing of sets with less or more: fewer panels may keep it.
  if (judged.outcome) learned_.add(judged.set, judged.meets_aim());
  if (judged.meets_aim()) {
    choice_.best.push_back(judged);
  } else if (choice_.best.empty()) {
    // Sets come by rising cost: a later miss costs more than a set that holds.
    choice_.missed.push_back(judged);
  }
}

void PartsSearch::judge_batch(const std::vector<PartsSet>& batch) {
  std::vector<JudgedSet> judged;
  std::vector<Site> sites;
  std::vector<std::size_t> run;
  for (const PartsSet& set : batch) {
    Site site = with_parts(site_, list_, set);
    if (const auto broken = broken_limit(site, hottest_air_c_)) {
      judged.push_back({set, {}, *broken});
      continue;
    }
    run.push_back(judged.size());
    judged.push_back({set, JudgedYear{}, ""});
    sites.push_back(std::move(site));
  }
  const std::vector<JudgedYear> outcomes = UncheckedStudy::run(study_, sites);
  choice_.evaluations += outcomes.size();
  for (std::size_t i = 0; i < run.size(); ++i) {
    JudgedSet& set = judged[run[i]];
    set.outcome = outcomes[i];
    if (!outcomes[i].met.holds()) set.why_not = why_missed(outcomes[i].year, aim_);
  }
  for (const JudgedSet& set : judged) {
    // One of the same batch may have shown that it need not be looked at.
    if (!learned_.rule_out(set.set)) take(set);
  }
}

PartsChoice PartsSearch::run() {
  const std::vector<PartsSet> sets = sets_by_cost(list_, site_.battery.bank_voltage_v());
  choice_.possible = sets.size();
  std::vector<PartsSet> batch;
  for (const PartsSet& set : sets) {
    if (choice_.best.size() >= kSetsShown) break;
    if (learned_.rule_out(set)) continue;
    batch.push_back(set);
    if (batch.size() < kBatch) continue;
    judge_batch(batch);
    batch.clear();
  }
  if (choice_.best.size() < kSetsShown) judge_batch(batch);
  if (choice_.best.size() > kSetsShown) choice_.best.resize(kSetsShown);

  keep_telling_misses();
  return choice_;
}

// The nearest to the aim first: sets that break no limit, those whose year is least bad, the
// cheapest.
auto PartsSearch::distance(const JudgedSet& judged) const {
  const YearBalance year = judged.outcome ? judged.outcome->year : YearBalance{};
  return std::tuple(!judged.outcome, severity(year), judged.set.cost);
}

void PartsSearch::keep_telling_misses() {
  std::vector<JudgedSet>& missed = choice_.missed;
  const auto shown = static_cast<std::ptrdiff_t>(std::min(missed.size(), kSetsShown));
  if (choice_.best.empty()) {
    std::stable_sort(missed.begin(), missed.end(), [&](const JudgedSet& a, const JudgedSet& b) {
      return distance(a) < distance(b);
    });
    missed.erase(missed.begin() + shown, missed.end());
  } else {
    // The dearest of them, next below the cheapest set that holds.
    missed.erase(missed.begin(), missed.end() - shown);
  }
}

// The site with one panel of another label, mounted as its own.
Site with_panel(Site site, Panel panel) {
  panel.count = 1;
  panel.series = 1;
  panel.tilt_deg = site.panel.tilt_deg;
  panel.azimuth_deg = site.panel.azimuth_deg;
  panel.losses_share = site.panel.losses_share;
  panel.shade = std::move(site.panel.shade);
  site.panel = std::move(panel);
  return site;
}

Site with_battery(Site site, Battery battery) {
  battery.series = 1;
  battery.parallel = 1;
  battery.floor_share = site.battery.floor_share;
  battery.health_share = 1;
  battery.start_share = site.battery.start_share;
  site.battery = std::move(battery);
  return site;
}

void require_valid_part(const Site& with_part, std::string_view list, std::size_t index) {
  try {
    require_valid(with_part);
  } catch (const InputError& error) {
    throw InputError(fmt::format("{}[{}]", list, index), error.what());
  }
}

// Every part must be one that the site could have.
void check_parts(const Site& site, const PartsList& list) {
  for (std::size_t i = 0; i < list.panels.size(); ++i) {
    require_valid_part(with_panel(site, list.panels[i].panel), "panels", i);
  }
  for (std::size_t i = 0; i < list.batteries.size(); ++i) {
    require_valid_part(with_battery(site, list.batteries[i].battery), "batteries", i);
  }
  Site regulated = site;
  for (std::size_t i = 0; i < list.regulators.size(); ++i) {
    regulated.regulator = list.regulators[i].regulator;
    require_valid_part(regulated, "regulators", i);
  }
}

void check_voltages(const Site& site, const PartsList& list) {
  const double bank_v = site.battery.bank_voltage_v();
  const bool one_fits =
      std::any_of(list.batteries.begin(), list.batteries.end(),
                  [&](const BatteryPart& part) { return series_for(part.battery, bank_v) > 0; });
  if (!one_fits) {
    throw InputError("batteries", fmt::format("none makes up the site's {:g} V in series", bank_v));
  }
}

}  // namespace

Site with_parts(Site site, const PartsList& list, const PartsSet& set) {
  site = with_panel(std::move(site), list.panels[set.panel].panel);
  site.panel.count = set.panels();
  site.panel.series = set.panel_series;

  Battery battery = list.batteries[set.battery].battery;
  battery.series = set.battery_series;
  battery.parallel = set.battery_parallel;
  battery.floor_share = battery.kind == site.battery.kind ? site.battery.floor_share
                                                          : battery_type(battery.kind).floor_share;
  battery.health_share = 1;
  battery.start_share = site.battery.start_share;
  // A battery's own limit is that of each; the bank's is the sum of its strings.
  if (battery.max_charge_current_a) *battery.max_charge_current_a *= set.battery_parallel;
  site.battery = std::move(battery);

  site.regulator = list.regulators[set.regulator].regulator;
  return site;
}

PartsChoice choose_parts(const Site& site, const PartsList& list, const WeatherChoice& weather) {
  require_valid(site, weather);
  check_parts(site, list);
  check_voltages(site, list);
  return PartsSearch(site, list, weather).run();
}

}  // namespace amptally::inline v0_1
