#include "amptally/resize.hpp"

#include <utility>

#include "amptally/panel.hpp"

namespace amptally::inline v0_1 {

Site with_panel_power(Site site, double power_w) {
  site.panel = with_power(std::move(site.panel), power_w);
  return site;
}

Site with_battery_capacity(Site site, double capacity_ah) {
  if (site.battery.max_charge_current_a) {
    *site.battery.max_charge_current_a *= capacity_ah / site.battery.capacity_ah;
  }
  site.battery.capacity_ah = capacity_ah;
  return site;
}

}  // namespace amptally::inline v0_1
