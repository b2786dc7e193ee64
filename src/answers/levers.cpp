#include "amptally/levers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <memory>
#include <optional>
#include <span>

#include "amptally/study.hpp"

#include "answers/adjustments.hpp"
#include "answers/severity.hpp"
#include "answers/threshold_search.hpp"
#include "answers/unchecked_study.hpp"

namespace amptally::inline v0_1 {
namespace {

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
      search_.learn(asked_[i], outcomes[i].met.holds());
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

/// A regulator that turns the panel's voltage into current. A pwm one brings no more than the
/// direct wire.
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
                 .reaches_aim = outcome_->met.holds(),
                 .change_share = 1,
                 .year = outcome_->year};
  }

 private:
  [[nodiscard]] RegulatorKind now() const { return site_.regulator.kind; }
  [[nodiscard]] Site with_better() const {
    Site site = site_;
    site.regulator.kind = RegulatorKind::mppt;
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
