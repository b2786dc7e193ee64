#include "amptally/regulator.hpp"

#include <algorithm>
#include <limits>

namespace amptally {
namespace {

constexpr double kFullSun_w_m2 = 1000;
constexpr double kStcCell_c = 25;

// Common practice, no source: loads come back when the battery has won back a fifth of its charge.
constexpr double kUsualReconnectGap = 0.2;

}  // namespace

double delivered_current_a(const Site& site, const PanelRating& rating, const PanelCurve& curve,
                           double irradiance_w_m2, double cell_temperature_c) {
  const Panel& panel = site.panel;
  const double battery_v = charging_voltage_v(site.battery);
  const double kept = 1 - panel.losses_share;
  if (site.regulator.kind == RegulatorKind::mppt) {
    return panel.count * max_power_w(rating, irradiance_w_m2, cell_temperature_c) * kept *
           site.regulator.efficiency_share / battery_v;
  }
  const double strings = static_cast<double>(panel.count) / panel.series;
  return strings * kept *
         curve.current_a(battery_v / panel.series, irradiance_w_m2, cell_temperature_c);
}

ChargeOffer charge_offer(const Site& site, const SunYear& year) {
  const PanelRating rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  const PanelCurve curve(rating);
  const double limit_a =
      site.regulator.max_current_a.value_or(std::numeric_limits<double>::infinity());
  const double kept = 1 - site.panel.losses_share;
  ChargeOffer offer{};
  offer.current_a.resize(kHoursPerYear);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    const double sun = year.plane_w_m2[h];
    if (sun <= 0) continue;
    const double cell_c = cell_temp_c(year.air_temp_c[h], sun, site.panel.noct_c);
    const double current = delivered_current_a(site, rating, curve, sun, cell_c);
    offer.current_a[h] = std::min(current, limit_a);
    offer.clipped_ah += current - offer.current_a[h];
  }
  offer.full_sun_w = delivered_current_a(site, rating, curve, kFullSun_w_m2, kStcCell_c) *
                     charging_voltage_v(site.battery);
  offer.full_sun_panel_w = site.panel.count * max_power_w(rating, kFullSun_w_m2, kStcCell_c) * kept;
  return offer;
}

double standby_current_a(const Site& site) {
  return site.regulator.standby.current_a(site.battery.bank_voltage_v());
}

double absorption_voltage_v(const Site& site) {
  return site.regulator.absorption_v.value_or(battery_type(site.battery.kind).absorption_cell_v *
                                              bank_cells(site.battery));
}

LoadSwitch load_switch(const Site& site, double load_current_a) {
  const Regulator& regulator = site.regulator;
  if (!regulator.cutoff) return {.cutoff = 0, .reconnect = 0};
  LoadSwitch out{};
  out.cutoff =
      regulator.cutoff->unit == Threshold::Unit::state_of_charge
          ? regulator.cutoff->value
          : state_of_charge_discharging(site.battery, regulator.cutoff->value, load_current_a);
  if (!regulator.reconnect) {
    out.reconnect = out.cutoff + kUsualReconnectGap;
  } else if (regulator.reconnect->unit == Threshold::Unit::state_of_charge) {
    out.reconnect = regulator.reconnect->value;
  } else {
    out.reconnect = state_of_charge_charging(site.battery, regulator.reconnect->value);
  }
  // A battery is hardly ever quite full, so loads never wait for that.
  constexpr double kLatestReconnect = 0.95;
  out.reconnect = std::max(out.cutoff, std::min(out.reconnect, kLatestReconnect));
  return out;
}

}  // namespace amptally
