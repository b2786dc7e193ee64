#include "amptally/levers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <map>
#include <memory>
#include <optional>
#include <span>

#include <fmt/format.h>

#include "amptally/load.hpp"
#include "amptally/resize.hpp"
#include "amptally/study.hpp"

#include "answers/severity.hpp"
#include "answers/threshold_search.hpp"
#include "answers/unchecked_study.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: beyond these it would be another system, see study_levers.
constexpr double kMostPanel = 8;
constexpr double kMostBattery = 10;
constexpr double kLeastLosses_share = 0.03;
constexpr int kSteepest_deg = 90;

/// The site with one of its quantities at a value.
using Change = std::function<Site(Site site, double value)>;

/// A quantity that can be turned one way.
struct Adjustment {
  std::string field;
  std::string unit;
  double now;
  std::vector<double> steps;  // from the step next to now to the limit; not empty
  Change with;
};

// ---- Steps -------------------------------------------------------------------------------

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
std::vector<double> steps_up(double now, double times) {
  std::vector<double> steps = two_figure_numbers(now, times * now);
  std::erase(steps, now);
  return steps;
}

/// Downwards to nothing; below a hundredth of now there is only nothing.
std::vector<double> steps_down(double now) {
  std::vector<double> steps = two_figure_numbers(now / 100, now);
  std::erase(steps, now);
  std::reverse(steps.begin(), steps.end());
  steps.push_back(0);
  return steps;
}

/// Whole per cent below `now`, down to `limit`.
std::vector<double> per_cent_steps(double now, double limit) {
  std::vector<double> steps;
  for (int per_cent = 100; per_cent >= 0; --per_cent) {
    const double share = per_cent / 100.0;
    if (share < now && share >= limit) steps.push_back(share);
  }
  return steps;
}

std::vector<double> degree_steps(double now_deg, double to_deg) {
  std::vector<double> steps;
  for (int tilt = 0; tilt <= kSteepest_deg; ++tilt) {
    const bool between = tilt != now_deg && (tilt - now_deg) * (tilt - to_deg) <= 0;
    if (between) steps.push_back(tilt);
  }
  if (to_deg < now_deg) std::reverse(steps.begin(), steps.end());
  return steps;
}

// ---- Adjustments -------------------------------------------------------------------------------

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

void add_parts(std::vector<Adjustment>& adjustments, const Site& site) {
  const Panel& panel = site.panel;
  const double capacity_ah = site.battery.capacity_ah;
  const Draw& standby = site.regulator.standby;
  const bool shaded = std::any_of(panel.shade.begin(), panel.shade.end(),
                                  [](const Obstacle& o) { return o.blocks_share > 0; });
  if (shaded) {
    adjustments.push_back({"panel.shade", "%", 1, per_cent_steps(1, 0), with_shade_times});
  }
  if (panel.power_w > 0) {
    adjustments.push_back(
        {"panel.power", "W", panel.power_w, steps_up(panel.power_w, kMostPanel), with_panel_power});
  }
  adjustments.push_back({"panel.losses", "%", panel.losses_share,
                         per_cent_steps(panel.losses_share, kLeastLosses_share), with_losses});
  adjustments.push_back({"battery.capacity", "Ah", capacity_ah, steps_up(capacity_ah, kMostBattery),
                         with_battery_capacity});
  if (standby.value > 0) {
    adjustments.push_back({"regulator.standby", unit_of(standby), standby.value,
                           steps_down(standby.value), with_standby});
  }
}

void add_loads(std::vector<Adjustment>& adjustments, const Site& site) {
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    const Load& load = site.loads[i];
    const double minutes = minutes_a_day(load).value_or(0);
    if (load.draw.value <= 0 || !chooses_its_time(load)) continue;
    if (minutes > 0) {
      adjustments.push_back({fmt::format("loads[{}].{}", i, schedule_field(load)), "min", minutes,
                             steps_down(minutes), with_minutes(i)});
    }
    adjustments.push_back({fmt::format("loads[{}].draw", i), unit_of(load.draw), load.draw.value,
                           steps_down(load.draw.value), with_draw(i)});
  }
}

std::vector<Adjustment> adjustments_of(const Site& site) {
  std::vector<Adjustment> adjustments;
  add_parts(adjustments, site);
  add_loads(adjustments, site);
  std::erase_if(adjustments, [](const Adjustment& adjustment) { return adjustment.steps.empty(); });
  return adjustments;
}

// ---- Trying --------------------------------------------------------------------------------

/// One lever's questions to the study, a batch at a time.
class LeverSearch {
 public:
  virtual ~LeverSearch() = default;
  /// Variants to be run next; none when the search is over.
  virtual std::vector<Site> ask() = 0;
  /// The outcomes of those, in their order.
  virtual void learn(std::span<const JudgedYear> outcomes) = 0;
  /// Once the search is over; unset where there is nothing to change.
  [[nodiscard]] virtual std::optional<Lever> lever() const = 0;
};

/// Sets a quantity to the first of its steps that meets the aim; to its last where that does
/// not either.
class StepSearch : public LeverSearch {
 public:
  StepSearch(const Site& site, Adjustment adjustment)
      : site_(site),
        adjustment_(std::move(adjustment)),
        search_(static_cast<int>(adjustment_.steps.size())) {}

  std::vector<Site> ask() override {
    asked_ = search_.ask();
    std::vector<Site> sites;
    for (const int step : asked_) sites.push_back(adjustment_.with(site_, value(step)));
    return sites;
  }

  void learn(std::span<const JudgedYear> outcomes) override {
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      search_.learn(asked_[i], outcomes[i].meets_aim);
      known_[asked_[i]] = outcomes[i].year;
    }
  }

  [[nodiscard]] std::optional<Lever> lever() const override {
    const int last = static_cast<int>(adjustment_.steps.size()) - 1;
    const int step = search_.found().value_or(last);
    return Lever{.field = adjustment_.field,
                 .unit = adjustment_.unit,
                 .now = adjustment_.now,
                 .to = value(step),
                 .reaches_aim = search_.found().has_value(),
                 .change_share = adjustment_.now > 0
                                     ? std::abs(value(step) - adjustment_.now) / adjustment_.now
                                     : 0,
                 // Asked for in any case: a first good step was seen to be good, and while none is
                 // good the last one is asked for first.
                 .year = known_.at(step)};
  }

 private:
  [[nodiscard]] double value(int step) const {
    return adjustment_.steps[static_cast<std::size_t>(step)];
  }

  const Site& site_;
  Adjustment adjustment_;
  ThresholdSearch search_;
  std::vector<int> asked_;
  std::map<int, YearBalance> known_;
};

/// First the whole-degree tilt at which the year goes best, if it has one best: every ten degrees,
/// then closer and closer around the best so far. Then the first tilt towards it that meets the
/// aim.
class TiltSearch : public LeverSearch {
 public:
  explicit TiltSearch(const Site& site) : site_(site) {}

  std::vector<Site> ask() override {
    if (towards_) return towards_->ask();
    asked_.clear();
    while (stage_ < kSpacings_deg.size()) {
      asked_ = next_tilts();
      if (!asked_.empty()) break;
      ++stage_;
    }
    std::vector<Site> sites;
    for (const int tilt : asked_) sites.push_back(with_tilt(site_, tilt));
    if (!sites.empty()) return sites;
    const std::vector<double> steps = degree_steps(site_.panel.tilt_deg, best_deg());
    if (steps.empty()) return {};
    towards_.emplace(site_,
                     Adjustment{"panel.tilt", "deg", site_.panel.tilt_deg, steps, with_tilt});
    return towards_->ask();
  }

  void learn(std::span<const JudgedYear> outcomes) override {
    if (towards_) return towards_->learn(outcomes);
    for (std::size_t i = 0; i < asked_.size(); ++i) known_[asked_[i]] = outcomes[i].year;
    ++stage_;
  }

  [[nodiscard]] std::optional<Lever> lever() const override {
    if (!towards_) return std::nullopt;
    std::optional<Lever> lever = towards_->lever();
    // Over the whole range, not over the tilt now, which is 0 for a panel that lies flat.
    lever->change_share =
        std::abs(std::get<double>(lever->to) - site_.panel.tilt_deg) / kSteepest_deg;
    return lever;
  }

 private:
  // Chosen: each spacing with its neighbours reaches the next of the one before.
  static constexpr std::array kSpacings_deg = {10, 3, 1};

  [[nodiscard]] std::vector<int> next_tilts() const {
    const int spacing = kSpacings_deg[stage_];
    const int reach = stage_ == 0 ? kSteepest_deg : kSpacings_deg[stage_ - 1] - 1;
    const int around = stage_ == 0 ? 0 : best_deg();
    std::vector<int> tilts;
    for (int tilt = around - reach / spacing * spacing; tilt <= around + reach; tilt += spacing) {
      if (tilt >= 0 && tilt <= kSteepest_deg && !known_.contains(tilt)) tilts.push_back(tilt);
    }
    return tilts;
  }

  [[nodiscard]] int best_deg() const {
    return std::min_element(
               known_.begin(), known_.end(),
               [](const auto& x, const auto& y) { return severity(x.second) < severity(y.second); })
        ->first;
  }

  const Site& site_;
  std::size_t stage_ = 0;
  std::vector<int> asked_;
  std::map<int, YearBalance> known_;
  std::optional<StepSearch> towards_;
};

/// The next better kind of regulator.
class KindSearch : public LeverSearch {
 public:
  explicit KindSearch(const Site& site) : site_(site) {}

  std::vector<Site> ask() override {
    if (now() == RegulatorKind::mppt || outcome_) return {};
    return {with_better()};
  }

  void learn(std::span<const JudgedYear> outcomes) override { outcome_ = outcomes.front(); }

  [[nodiscard]] std::optional<Lever> lever() const override {
    if (!outcome_) return std::nullopt;
    return Lever{.field = "regulator.kind",
                 .unit = "",
                 .now = now(),
                 .to = with_better().regulator.kind,
                 .reaches_aim = outcome_->meets_aim,
                 .change_share = 1,
                 .year = outcome_->year};
  }

 private:
  [[nodiscard]] RegulatorKind now() const { return site_.regulator.kind; }
  [[nodiscard]] Site with_better() const {
    Site site = site_;
    site.regulator.kind = now() == RegulatorKind::none ? RegulatorKind::pwm : RegulatorKind::mppt;
    return site;
  }

  const Site& site_;
  std::optional<JudgedYear> outcome_;
};

using Searches = std::vector<std::unique_ptr<LeverSearch>>;

Searches all_searches(const Site& site) {
  Searches searches;
  searches.push_back(std::make_unique<TiltSearch>(site));
  searches.push_back(std::make_unique<KindSearch>(site));
  for (Adjustment& adjustment : adjustments_of(site)) {
    searches.push_back(std::make_unique<StepSearch>(site, std::move(adjustment)));
  }
  return searches;
}

/// Answers all questions that the searches have at the time, until they have none. All searches ask
/// together: a full block of designs is hardly slower to run than one.
void run_searches(const Searches& searches, const Study& study) {
  for (;;) {
    std::vector<Site> sites;
    std::vector<std::size_t> asked;  // one a search
    for (const auto& search : searches) {
      std::vector<Site> own = search->ask();
      asked.push_back(own.size());
      std::move(own.begin(), own.end(), std::back_inserter(sites));
    }
    if (sites.empty()) return;
    const std::vector<JudgedYear> outcomes = UncheckedStudy::run(study, sites);
    std::span<const JudgedYear> left = outcomes;
    for (std::size_t i = 0; i < searches.size(); ++i) {
      if (asked[i] > 0) searches[i]->learn(left.first(asked[i]));
      left = left.subspan(asked[i]);
    }
  }
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
  return severity(a.year) < severity(b.year);
}

}  // namespace

LeverStudy study_levers(const Site& site, const WeatherChoice& weather) {
  LeverStudy result{.now = simulate(site, weather).balance};
  if (result.now.holds()) return result;
  const Study study(site, weather);
  const Searches searches = all_searches(site);
  run_searches(searches, study);
  for (const auto& search : searches) {
    std::optional<Lever> lever = search->lever();
    if (!lever) continue;
    lever->helps = helps(result.now, lever->year);
    result.levers.push_back(std::move(*lever));
  }
  std::stable_sort(result.levers.begin(), result.levers.end(), comes_before);
  return result;
}

}  // namespace amptally::inline v0_1
