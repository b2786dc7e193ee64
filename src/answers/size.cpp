#include "amptally/size.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/resize.hpp"

#include "answers/pareto_front.hpp"
#include "answers/unchecked_study.hpp"
#include "balance/aim.hpp"
#include "balance/parallel_for.hpp"
#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr int kSteps = 40;

// Chosen: at the low end the panel could not even carry the mean year, so that the edge lies above;
// the high ends are far past where more is of use.
constexpr double kLeastOfMeanYear = 0.6;
constexpr double kMostOfWorksheet = 8;
constexpr double kMostOfSmallestBattery = 30;

// For a month that is all but dark the hand method asks for a panel of any size. Chosen: its answer
// counts up to this many times the mean year's.
constexpr double kDarkestMonth = 10;

// Chosen: a pair that costs more than so many times the cheapest is nothing to buy, and not shown.
constexpr double kMostShown = 3;

// Without an autonomy aim the battery still has nights to bridge.
constexpr double kLeastDays = 0.25;

// Common practice, no source: sizes that shops have. Batteries of 12 V; beyond the last, several.
constexpr double kPanelsSold_w[] = {5,   10,  20,  30,  40,  50,  60,  80,  100, 120,
                                    150, 180, 200, 250, 300, 350, 400, 450, 500, 550};
constexpr double kBatteriesSold_ah[] = {1.2, 2.3, 4,  7,  9,   12,  18,  24,  33, 40,
                                        50,  65,  75, 90, 100, 120, 150, 200, 250};
constexpr int kMostUnits = 8;

// A size to be had: so many of these for each one that the site has.
struct SizeStep {
  double each;
  int units = 1;
};
using SizeSteps = std::vector<SizeStep>;

// The next number above that three figures can write: what is shown is what was run.
double three_figures_up(double value) {
  const double digits = 2 - std::floor(std::log10(value));
  // A whole number, so that the quotient by it is the double nearest to the decimal number.
  const double scale = std::pow(10, std::abs(digits));
  constexpr double kHair = 1e-9;  // rounding shall not lift a number of three figures to the next
  return digits >= 0 ? std::ceil(value * scale - kHair) / scale
                     : std::ceil(value / scale - kHair) * scale;
}

SizeSteps geometric(double low, double high, int count) {
  SizeSteps steps;
  for (int i = 0; i < count; ++i) {
    steps.push_back({three_figures_up(low * std::pow(high / low, i / (count - 1.0)))});
  }
  return steps;
}

// The sizes sold in low..high and the next one above.
SizeSteps sold(std::span<const double> sizes, double low, double high) {
  SizeSteps steps;
  const auto add = [&](double each, int units) {
    const bool is_past = !steps.empty() && steps.back().each * steps.back().units >= high;
    if (each * units >= low && !is_past) steps.push_back({each, units});
  };
  for (const double size : sizes) add(size, 1);
  for (int units = 2; units <= kMostUnits; ++units) add(sizes.back(), units);
  return steps;
}

// Sizes of one unit between the steps on either side of `each`, and these.
SizeSteps finer(const SizeSteps& steps, double each) {
  constexpr int kFinerSteps = 20;  // chosen: apart by less than a hundredth
  const auto at = std::ranges::find(steps, each, &SizeStep::each);
  const double low = at == steps.begin() ? each : std::prev(at)->each;
  const double high = std::next(at) == steps.end() ? each : std::next(at)->each;
  SizeSteps between = geometric(low, high, kFinerSteps);
  const auto same = [](const SizeStep& x, const SizeStep& y) { return x.each == y.each; };
  between.erase(std::unique(between.begin(), between.end(), same), between.end());
  return between;
}

std::vector<double> each_of(const SizeSteps& steps) {
  std::vector<double> sizes;
  for (const SizeStep& step : steps) sizes.push_back(step.each);
  return sizes;
}

// Capacity of each battery that just meets the autonomy aim, Ah. What a battery gives at a steady
// draw grows faster than its size, so it is searched for, not divided.
double smallest_battery_ah(const Site& site, const Monthly& use_ah_day,
                           const Monthly& largest_draw_a, const ResolvedAim& aim) {
  const double wanted_days = std::max(aim.autonomy_days, kLeastDays);
  const auto bridges = [&](double capacity_ah) {
    return lowest_autonomy_days(with_battery_capacity(site, capacity_ah), use_ah_day,
                                largest_draw_a, aim.floor_share) >= wanted_days;
  };
  double low = 0;
  double high = 1;
  while (!bridges(high)) {
    low = high;
    high *= 2;
    if (high > 1e9) {
      throw ModelError("no battery, however large, bridges the days without sun in such cold");
    }
  }
  constexpr int kHalvings = 40;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (bridges(middle) ? high : low) = middle;
  }
  return high;
}

// Panels that the mean day of the year would do for, W.
double mean_year_panel_w(const WorksheetInput& input) {
  double use = 0;
  double sun = 0;
  for (std::size_t m = 0; m < input.use_ah_day.size(); ++m) {
    use += input.use_ah_day[m];
    sun += input.sun_hours[m];
  }
  if (use <= 0) throw ModelError("nothing draws from the battery: there is nothing to size");
  // Chosen: twelve months with less than this of full sun a day between them are dark. Divided by
  // less, sizes would come out that no number holds.
  constexpr double kDark_h = 1e-6;
  if (!(sun > kDark_h)) throw ModelError("no sun reaches the panel: no size of it will do");
  if (input.efficiency_share <= 0) {
    throw ModelError("the panel's losses take all it brings: no size of it will do");
  }
  return worksheet_panel_current_a(use, input.efficiency_share, sun) * input.panel_v;
}

bool no_more(const Sizes& a, const Sizes& b) {
  return a.panel_power_w() <= b.panel_power_w() &&
         a.battery_capacity_ah() <= b.battery_capacity_ah();
}

// A site whose panel has a power to be scaled.
Site scalable(Site site) {
  // The label's currents are scaled by the ratio of two powers (`with_power`). Any power does, as
  // each size tried replaces it.
  if (site.panel.power_w <= 0) site.panel.power_w = 1;
  site.battery.health_share = 1;  // what is bought is new
  return site;
}

// The search in one weather over one plane.
class SizeSearch {
 public:
  SizeSearch(const Site& site, const WeatherChoice& weather, const Prices& prices)
      : site_(scalable(site)), study_(site_, weather), prices_(prices) {
    if (weather.mode != WeatherMode::synthetic) return;
    mean_study_.emplace(site_, WeatherChoice{.threads = weather.threads});
  }

  Sizing run();

 private:
  [[nodiscard]] Sizes sizes(const SizeStep& panel, const SizeStep& battery) const;
  [[nodiscard]] double cost(const Sizes& sizes) const;
  [[nodiscard]] Site with(const Sizes& sizes) const { return with_sizes(site_, sizes); }
  // Pairs that cost as much as `enough` or more are not run, and are not among those returned.
  std::vector<SizedPair> pareto_front(const SizeSteps& panels, const SizeSteps& batteries,
                                      double enough_cost = std::numeric_limits<double>::infinity());
  std::vector<bool> meet(const std::vector<Sizes>& pairs, std::size_t known);
  [[nodiscard]] std::optional<bool> follows(const Sizes& pair, std::size_t known) const;
  void set_outcomes(std::vector<SizedPair>& pairs);
  [[nodiscard]] std::optional<SizedPair> cheapest(std::vector<SizedPair> pairs);
  void take_cheaper(Sizing& result, const SizeSteps& panels, const SizeSteps& batteries);

  struct Tried {
    Sizes sizes;
    bool met;
  };

  Site site_;
  Study study_;
  std::optional<Study> mean_study_;  // beside synthetic weather: a budget asks for both
  Prices prices_;
  std::vector<Tried> tried_;
  int evaluations_ = 0;
};

Sizes SizeSearch::sizes(const SizeStep& panel, const SizeStep& battery) const {
  return {.panel_each_w = panel.each,
          .panel_count = site_.panel.count * panel.units,
          .battery_each_ah = battery.each,
          .battery_parallel = site_.battery.parallel * battery.units,
          .tilt_deg = site_.panel.tilt_deg};
}

double SizeSearch::cost(const Sizes& sizes) const {
  constexpr double kPricedAt_v = 12;
  return prices_.panel_per_w * sizes.panel_power_w() +
         prices_.battery_per_ah * sizes.battery_capacity_ah() * site_.battery.bank_voltage_v() /
             kPricedAt_v;
}

// What follows from the first `known` pairs tried: one that is no more than one that missed the aim
// misses it, one that is no less than one that met it meets it.
std::optional<bool> SizeSearch::follows(const Sizes& pair, std::size_t known) const {
  for (std::size_t i = 0; i < known; ++i) {
    const Tried& tried = tried_[i];
    if (tried.met && no_more(tried.sizes, pair)) return true;
    if (!tried.met && no_more(pair, tried.sizes)) return false;
  }
  return std::nullopt;
}

std::vector<bool> SizeSearch::meet(const std::vector<Sizes>& pairs, std::size_t known) {
  std::vector<bool> met(pairs.size());
  std::vector<Site> sites;
  std::vector<std::size_t> asked;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (const std::optional<bool> answer = follows(pairs[i], known)) {
      met[i] = *answer;
      continue;
    }
    sites.push_back(with(pairs[i]));
    asked.push_back(i);
  }
  const std::vector<bool> answers = UncheckedStudy::meets(study_, sites);
  evaluations_ += static_cast<int>(sites.size());
  for (std::size_t n = 0; n < asked.size(); ++n) {
    met[asked[n]] = answers[n];
    tried_.push_back({pairs[asked[n]], answers[n]});
  }
  return met;
}

std::vector<SizedPair> SizeSearch::pareto_front(const SizeSteps& panels, const SizeSteps& batteries,
                                                double enough_cost) {
  if (panels.empty() || batteries.empty()) return {};  // more is needed than shops have
  const auto at = [&](const GridPoint& point) {
    return sizes(panels[static_cast<std::size_t>(point.a)],
                 batteries[static_cast<std::size_t>(point.b)]);
  };
  // What the fronts before this one taught; this one asks nothing that follows from its own
  // answers.
  const std::size_t known = tried_.size();
  ParetoFront front(static_cast<int>(panels.size()), static_cast<int>(batteries.size()),
                    [&](const std::vector<GridPoint>& points) {
                      // Those that cost too much are taken to meet the aim: all larger ones cost
                      // more still.
                      std::vector<bool> met(points.size(), true);
                      std::vector<Sizes> pairs;
                      std::vector<std::size_t> asked;
                      for (std::size_t i = 0; i < points.size(); ++i) {
                        if (cost(at(points[i])) >= enough_cost) continue;
                        pairs.push_back(at(points[i]));
                        asked.push_back(i);
                      }
                      const std::vector<bool> answers = meet(pairs, known);
                      for (std::size_t n = 0; n < asked.size(); ++n) met[asked[n]] = answers[n];
                      return met;
                    });
  std::vector<SizedPair> pairs;
  for (const GridPoint& point : front.points()) {
    if (cost(at(point)) >= enough_cost) continue;
    pairs.push_back({at(point), cost(at(point)), {}});
  }
  return pairs;
}

void SizeSearch::set_outcomes(std::vector<SizedPair>& pairs) {
  std::vector<Site> sites;
  for (const SizedPair& pair : pairs) sites.push_back(with(pair.sizes));
  const std::vector<JudgedYear> outcomes = UncheckedStudy::run(study_, sites);
  for (std::size_t i = 0; i < pairs.size(); ++i) pairs[i].outcome = outcomes[i];
  evaluations_ += static_cast<int>(pairs.size());
}

// A budget asks for the mean year too: what is recommended holds in both.
std::optional<SizedPair> SizeSearch::cheapest(std::vector<SizedPair> pairs) {
  // A pair may be on the front for what followed from others, and be seen to miss when it is run.
  std::erase_if(pairs, [](const SizedPair& pair) { return !pair.outcome.met.holds(); });
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const SizedPair& x, const SizedPair& y) { return x.cost < y.cost; });
  std::vector<bool> hold(pairs.size(), true);
  if (mean_study_) {
    std::vector<Site> sites;
    for (const SizedPair& pair : pairs) sites.push_back(with(pair.sizes));
    hold = UncheckedStudy::meets(*mean_study_, sites);
  }
  const auto first = std::find(hold.begin(), hold.end(), true);
  if (first == hold.end()) return std::nullopt;
  return pairs[static_cast<std::size_t>(first - hold.begin())];
}

// Looks closer around the cheapest step, and takes what shops have where that costs less still.
void SizeSearch::take_cheaper(Sizing& result, const SizeSteps& panels, const SizeSteps& batteries) {
  const Sizes& step = result.best->sizes;
  std::vector<SizedPair> close = pareto_front(
      finer(panels, step.panel_each_w), finer(batteries, step.battery_each_ah), result.best->cost);
  set_outcomes(close);
  for (const std::optional<SizedPair>& other : {cheapest(std::move(close)), result.as_sold}) {
    if (other && other->cost < result.best->cost) result.best = other;
  }
  const Sizes& best = result.best->sizes;
  std::erase_if(result.line, [&](const SizedPair& pair) {
    return pair.cost > kMostShown * result.best->cost || no_more(pair.sizes, best) ||
           no_more(best, pair.sizes);
  });
  const auto larger = std::ranges::find_if(result.line, [&](const SizedPair& pair) {
    return pair.sizes.panel_power_w() > best.panel_power_w();
  });
  result.line.insert(larger, *result.best);
}

Sizing SizeSearch::run() {
  const Simulation prepared = prepare(site_);
  Sizing result;
  result.aim = resolve_aim(site_, study_.weather().mode);
  const WorksheetInput input = worksheet_input(site_, prepared, result.aim);
  result.worksheet = worksheet(input);
  const double mean_w = mean_year_panel_w(input) / site_.panel.count;
  const double sheet_w = result.worksheet.panel_power_w / site_.panel.count;
  const double smallest_ah =
      smallest_battery_ah(site_, input.use_ah_day, prepared.loads.largest_draw_a, result.aim);
  const SizeSteps panels =
      geometric(kLeastOfMeanYear * mean_w,
                kMostOfWorksheet * std::min(sheet_w, kDarkestMonth * mean_w), kSteps);
  const SizeSteps batteries = geometric(smallest_ah, kMostOfSmallestBattery * smallest_ah, kSteps);

  result.line = pareto_front(panels, batteries);
  set_outcomes(result.line);
  result.best = cheapest(result.line);
  const Sizes largest = sizes(panels.back(), batteries.back());
  result.largest = {largest, cost(largest), {}};
  if (result.best) {
    std::vector<SizedPair> in_shops =
        pareto_front(sold(kPanelsSold_w, result.line.front().sizes.panel_each_w,
                          result.line.back().sizes.panel_each_w),
                     sold(kBatteriesSold_ah, result.line.back().sizes.battery_each_ah,
                          result.line.front().sizes.battery_each_ah));
    set_outcomes(in_shops);
    result.as_sold = cheapest(std::move(in_shops));
    take_cheaper(result, panels, batteries);
  } else {
    const std::array sites = {with_sizes(site_, largest)};
    result.largest.outcome = UncheckedStudy::run(study_, sites).front();
    ++evaluations_;
  }
  result.panel_steps_w = each_of(panels);
  result.battery_steps_ah = each_of(batteries);
  result.tilts_deg = {site_.panel.tilt_deg};
  result.evaluations = evaluations_;
  return result;
}

// The tilt as it is, those with the most sun, and a steep one that trades summer for winter
// (latitude and 15 degrees: common practice, no source).
std::vector<double> tilts_to_try(const Site& site) {
  constexpr double kSameTilt_deg = 2;  // chosen: no one mounts a panel closer than that
  const TiltStudy study = compare_tilts(site.place, panel_plane(site));
  std::vector<double> tilts;
  for (const double tilt_deg :
       {site.panel.tilt_deg, study.best_worst_month.tilt_deg, study.best_year.tilt_deg,
        std::min(90.0, std::round(std::abs(site.place.latitude_deg)) + 15)}) {
    const bool is_known = std::any_of(tilts.begin(), tilts.end(), [&](double t) {
      return std::abs(t - tilt_deg) < kSameTilt_deg;
    });
    if (!is_known) tilts.push_back(tilt_deg);
  }
  return tilts;
}

double cost_or_infinite(const Sizing& sizing) {
  return sizing.best ? sizing.best->cost : std::numeric_limits<double>::infinity();
}

// How the search turned out at each of several tilts.
std::vector<Sizing> by_tilt(const Site& site, const std::vector<double>& tilts,
                            const WeatherChoice& weather, const Prices& prices) {
  std::vector<Sizing> results(tilts.size());
  WeatherChoice each = weather;
  if (tilts.size() > 1) each.threads = 1;  // a thread for a tilt serves better than for a year
  in_parallel(static_cast<int>(tilts.size()), weather.threads, [&](int i) {
    const auto n = static_cast<std::size_t>(i);
    Site tilted = site;
    tilted.panel.tilt_deg = tilts[n];
    results[n] = SizeSearch(tilted, each, prices).run();
  });
  return results;
}

}  // namespace

Site with_sizes(Site site, const Sizes& sizes) {
  const double bank_before_ah = site.battery.capacity_ah * site.battery.parallel;
  site = with_panel_power(std::move(site), sizes.panel_each_w);
  site.panel.count = sizes.panel_count;
  site.panel.tilt_deg = sizes.tilt_deg;
  site.battery.capacity_ah = sizes.battery_each_ah;
  site.battery.parallel = sizes.battery_parallel;
  site.battery.health_share = 1;  // what is bought is new
  if (site.battery.max_charge_current_a) {
    *site.battery.max_charge_current_a *= sizes.battery_capacity_ah() / bank_before_ah;
  }
  return site;
}

WorksheetInput worksheet_input(const Site& site, const Simulation& prepared,
                               const ResolvedAim& aim) {
  constexpr double kLeadAcidGivesBack = 0.9;
  const BatteryType& type = battery_type(site.battery.kind);
  const bool is_mppt = site.regulator.kind == RegulatorKind::mppt;
  const Monthly& air = site.place.air_temp_c;
  WorksheetInput input{
      .use_ah_day = use_by_month(prepared.loads, standby_current_a(site)),
      .sun_hours = {},
      .efficiency_share = (1 - site.panel.losses_share) *
                          (type.is_lead_acid() ? kLeadAcidGivesBack : type.charge_efficiency_share),
      .panel_v = is_mppt ? charging_voltage_v(site.battery) / site.regulator.efficiency_share
                         : prepared.rating.vmp_v * site.panel.series,
      .days = aim.autonomy_days,
      .depth_share = aim.floor_share,
      .temperature_factor = temperature_factor(type, *std::min_element(air.begin(), air.end()))};
  const auto months = sun_months(prepared.sky, prepared.sun);
  std::transform(months.begin(), months.end(), input.sun_hours.begin(),
                 [](const SunMonth& month) { return month.sun_panel_kwh_m2_day; });
  return input;
}

std::string why_missed(const YearBalance& year, const ResolvedAim& aim) {
  if (year.shortfall_days > aim.shortfall_days) {
    return fmt::format("short on {:.1f} days a year", year.shortfall_days);
  }
  if (year.floor_days > aim.shortfall_days) {
    return fmt::format("below the floor on {:.1f} days a year", year.floor_days);
  }
  if (year.autonomy_days < aim.autonomy_days) {
    return fmt::format("carries {:.1f} days without sun", year.autonomy_days);
  }
  return "";
}

Sizing size_site(const Site& site, const WeatherChoice& weather, const SizeRequest& request) {
  require_valid(site, weather);
  const std::vector<double> tilts =
      request.try_tilts ? tilts_to_try(site) : std::vector{site.panel.tilt_deg};
  std::vector<Sizing> results = by_tilt(site, tilts, weather, request.prices);
  int evaluations = 0;
  for (const Sizing& result : results) evaluations += result.evaluations;
  const auto cheapest = std::min_element(
      results.begin(), results.end(),
      [](const Sizing& x, const Sizing& y) { return cost_or_infinite(x) < cost_or_infinite(y); });
  Sizing result = std::move(*cheapest);
  result.tilts_deg = tilts;
  result.evaluations = evaluations;
  return result;
}

}  // namespace amptally::inline v0_1
