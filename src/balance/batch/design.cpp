#include "balance/batch/design.hpp"

#include <utility>

#include "balance/aim.hpp"
#include "balance/unchecked.hpp"
#include "parts/offer_shape.hpp"

namespace amptally::inline v0_1 {

SharedLoads shared_loads(const Site& site, const std::vector<DayGeometry>& geometry) {
  SharedLoads loads{
      .profile = unchecked_load_profile(site, geometry), .asked_day_ah = {}, .asked_ah_day = {}};
  loads.asked_day_ah = asked_by_day(loads.profile);
  loads.asked_ah_day = asked_by_month(loads.profile);
  return loads;
}

bool same_loads(const Site& a, const Site& b) {
  // The place decides daylight, and what plants ask for; the voltage turns watts into amperes.
  return a.loads == b.loads && a.water == b.water && a.place == b.place &&
         a.battery.bank_voltage_v() == b.battery.bank_voltage_v();
}

Design make_design(const Site& site, WeatherMode weather, std::shared_ptr<const WeatherCache> years,
                   std::shared_ptr<const SharedLoads> loads) {
  const double standby_a = standby_current_a(site);
  const Monthly use_ah_day = with_standby(loads->asked_ah_day, standby_a);
  const ResolvedAim aim = resolve_aim(site, weather);
  const LoadProfile& profile = loads->profile;
  const Monthly autonomy_share = autonomy_shares(site, profile.largest_draw_a, aim.floor_share);
  BatteryBank bank =
      make_bank(site, profile, load_switch(site, largest_draw_a(profile)), aim.floor_share);
  const StateOf<double> start = start_state(site, bank);
  return {.years = std::move(years),
          .loads = std::move(loads),
          .battery = site.battery,
          .bank = std::move(bank),
          .start = start,
          .offer_size = offer_size(site),
          .offer_limit_a = offer_limit_a(site),
          .aim = aim,
          .fixed = fixed_figures({.battery = &site.battery,
                                  .air_temp_c = site.place.air_temp_c,
                                  .use_ah_day = use_ah_day,
                                  .standby_a = standby_a,
                                  .autonomy_share = autonomy_share})};
}

}  // namespace amptally::inline v0_1
