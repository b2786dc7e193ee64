#include "amptally/fit.hpp"

#include <algorithm>
#include <cassert>

namespace amptally {
namespace {

constexpr int kMinutesPerDay = 1440;

// The largest whole number of 0 .. most for which `fits` holds; it holds up to some number and not
// beyond. -1 if not even for 0.
template <class Fits>
int largest(int most, const Fits& fits) {
  if (!fits(0)) return -1;
  int low = 0;
  int high = most + 1;
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (fits(middle) ? low : high) = middle;
  }
  return low;
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
    return study.meets(changed);
  };
  const Load& last = with.loads.back();
  if (minutes_a_day(last)) {
    fit.room.minutes_per_day = std::max(0, largest(kMinutesPerDay, [&](int minutes) {
                                          return last_as(with_minutes_a_day(last, minutes));
                                        }));
  }
  fit.room.copies = std::max(0, largest(kMostCopies, [&](int copies) {
                               Load load = last;
                               load.count = copies;
                               return last_as(load);
                             }));
  return fit;
}

}  // namespace amptally
