#include "amptally/fit.hpp"

#include <algorithm>
#include <functional>
#include <vector>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/load.hpp"
#include "amptally/study.hpp"

#include "answers/threshold_search.hpp"
#include "answers/unchecked_study.hpp"

namespace amptally::inline v0_1 {
namespace {

// The largest whole number of 0 .. most for which the site meets its aim; it does up to some number
// and not beyond. 0 if not even for 0.
int largest(int most, const Study& study, const std::function<Site(int)>& with) {
  // Steps from the most down to 0: every one after a good one is good.
  ThresholdSearch search(most + 1);
  for (std::vector<int> steps = search.ask(); !steps.empty(); steps = search.ask()) {
    std::vector<Site> sites;
    for (const int step : steps) sites.push_back(with(most - step));
    const std::vector<bool> good = UncheckedStudy::meets(study, sites);
    for (std::size_t i = 0; i < steps.size(); ++i) search.learn(steps[i], good[i]);
  }
  return search.found() ? most - *search.found() : 0;
}

// The site before the last loads came, and the cables to them.
Site without_last(Site site, std::size_t added) {
  const auto first = site.loads.end() - static_cast<std::ptrdiff_t>(added);
  std::erase_if(site.wiring, [&](const Cable& cable) {
    return std::any_of(first, site.loads.end(),
                       [&](const Load& load) { return load.name == cable.feeds; });
  });
  site.loads.erase(first, site.loads.end());
  return site;
}

}  // namespace

Fit fit_loads(const Site& with, std::size_t added, const WeatherChoice& weather) {
  require_valid(with, weather);
  if (added < 1 || added > with.loads.size()) {
    throw InputError(
        "added", fmt::format("{} is not in 1..{}, the number of loads", added, with.loads.size()));
  }
  Fit fit;
  fit.before = simulate(without_last(with, added), weather).balance;
  fit.after = simulate(with, weather).balance;
  fit.fits = fit.after.holds();

  const Study study(with, weather);
  const auto last_as = [&](const Load& load) {
    Site changed = with;
    changed.loads.back() = load;
    return changed;
  };
  const Load& last = with.loads.back();
  if (minutes_a_day(last)) {
    fit.room.minutes_per_day = largest(kMinutesPerDay, study, [&](int minutes) {
      return last_as(with_minutes_a_day(last, minutes));
    });
  }
  // From no copies at all, which a site file may not say: hence the unchecked study.
  fit.room.copies = largest(kMostCopies, study, [&](int copies) {
    Load load = last;
    load.count = copies;
    return last_as(load);
  });
  return fit;
}

}  // namespace amptally::inline v0_1
