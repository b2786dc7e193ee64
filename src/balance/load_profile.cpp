#include "amptally/load_profile.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "amptally/sun.hpp"
#include "amptally/validate.hpp"
#include "amptally/water.hpp"

#include "balance/schedules.hpp"
#include "balance/unchecked.hpp"

namespace amptally::inline v0_1 {

LoadProfile load_profile(const Site& site, const std::vector<DayGeometry>& geometry) {
  require_valid(site);
  return unchecked_load_profile(site, geometry);
}

LoadProfile unchecked_load_profile(const Site& site, const std::vector<DayGeometry>& geometry) {
  LoadProfile profile;
  profile.asked_ah.assign(kHoursPerYear, 0.0);
  const double volts = site.battery.bank_voltage_v();
  double running_ah = 0;
  std::vector<double> running_share(kHoursPerYear, 0.0);
  std::vector<Load> loads = site.loads;
  // The site's loads come first, in their order: answers/wiring.cpp finds a load's amp-hours by its
  // index in the site.
  for (Load& valve : valve_loads(site)) loads.push_back(std::move(valve));
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const Load& load = loads[i];
    const double on_a = load.draw.current_a(volts) * load.count;
    const double off_a = load.idle ? load.idle->current_a(volts) * load.count : 0;
    const std::vector<double> on =
        hours_on(site, load, fmt::format("loads[{}].", i), geometry, profile.assumptions);
    double total_ah = 0;
    for (std::size_t h = 0; h < kHoursPerYear; ++h) {
      // Runs that overlap come to more than the whole hour: their draws add up, and nothing idles.
      const double ah = on_a * on[h] + off_a * std::max(0.0, 1 - on[h]);
      profile.asked_ah[h] += ah;
      total_ah += ah;
      running_ah += on_a * on[h];
      // Loads of one hour are taken to run at the same time, so that the longest of them says how
      // long something runs.
      running_share[h] = std::max(running_share[h], on[h]);
    }
    profile.names.push_back(load.name);
    profile.load_ah.push_back(total_ah);
  }
  double running_h = 0;
  for (const double share : running_share) running_h += std::min(share, 1.0);
  profile.running_current_a = running_h > 0 ? running_ah / running_h : 0;
  return profile;
}

}  // namespace amptally::inline v0_1
