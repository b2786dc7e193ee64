#include "amptally/fit.hpp"

#include <cassert>
#include <functional>

#include "amptally/load.hpp"
#include "amptally/study.hpp"

#include "answers/threshold_search.hpp"

namespace amptally {
namespace {

// The largest whole number of 0 .. most for which the site meets its aim; it does up to some number
// and not beyond. 0 if not even for 0.
int largest(int most, const Study& study, const std::function<Site(int)>& with) {
  // Steps from the most down to 0: every one after a good one is good.
  ThresholdSearch search(most + 1);
  for (std::vector<int> steps = search.ask(); !steps.empty(); steps = search.ask()) {
    std::vector<Site> sites;
    for (const int step : steps) sites.push_back(with(most - step));
    const std::vector<bool> good = study.meets(sites);
    for (std::size_t i = 0; i < steps.size(); ++i) search.learn(steps[i], good[i]);
  }
  return search.found() ? most - *search.found() : 0;
}

}  // namespace

Fit fit_loads(const Site& with, std::size_t added, const WeatherChoice& weather) {
  assert(added >= 1 && added <= with.loads.size());
  Site without = with;
  without.loads.resize(with.loads.size() - added);
  Fit fit;
  fit.before = simulate(without, weather).balance;
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
  fit.room.copies = largest(kMostCopies, study, [&](int copies) {
    Load load = last;
    load.count = copies;
    return last_as(load);
  });
  return fit;
}

}  // namespace amptally
