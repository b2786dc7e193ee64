#pragma once

#include <memory>

#include "amptally/balance.hpp"

#include "balance/batch/weather_cache.hpp"
#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {

/// A site's loads on the clock, with what all designs that share them need.
struct SharedLoads {
  LoadProfile profile;
  std::vector<double> asked_day_ah;  ///< 365, each the sum of its hours
  Monthly asked_ah_day;              ///< the months' means
};

[[nodiscard]] SharedLoads shared_loads(const Site& site, const std::vector<DayGeometry>& geometry);

/// Whether two sites under the same path of the sun have the same loads at every hour.
[[nodiscard]] bool same_loads(const Site& a, const Site& b);

/// A variant of a site, ready to be run.
struct Design {
  std::shared_ptr<const WeatherCache> years;
  std::shared_ptr<const SharedLoads> loads;
  Battery battery;
  BatteryBank bank;
  StateOf<double> start;
  double offer_size;
  double offer_limit_a;
  ResolvedAim aim;
  YearBalance fixed;  ///< a year's figures that do not depend on its weather
};

[[nodiscard]] Design make_design(const Site& site, WeatherMode weather,
                                 std::shared_ptr<const WeatherCache> years,
                                 std::shared_ptr<const SharedLoads> loads);

}  // namespace amptally::inline v0_1
