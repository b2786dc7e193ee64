#include "amptally/regulator.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "parts/offer_shape.hpp"
#include "parts/sized_offer.hpp"

namespace amptally::inline v0_1 {
namespace {

// Common practice, no source: loads come back when the battery has won back a fifth of its charge.
constexpr double kUsualReconnectGap = 0.2;

// Far finer than a label can be read, and coarse enough that a label scaled to another size keeps
// its shape to the last bit.
double to_a_billionth(double x) { return std::round(x * 1e9) / 1e9; }

// The current of a shape of size 1.
class UnitCurrent {
 public:
  explicit UnitCurrent(const OfferShape& shape)
      : shape_(shape),
        rating_{.power_w = 1,
                .vmp_v = shape.vmp_v,
                .imp_a = shape.imp_a,
                .voc_v = shape.voc_v,
                .isc_a = 1,
                .temp_coeff_power_pct_k = shape.temp_coeff_power_pct_k,
                .temp_coeff_voc_pct_k = shape.temp_coeff_voc_pct_k,
                .assumptions = {}},
        curve_(rating_) {}

  [[nodiscard]] double at(double irradiance_w_m2, double cell_temperature_c) const {
    return shape_.converts
               ? max_power_w(rating_, irradiance_w_m2, cell_temperature_c)
               : curve_.current_a(shape_.held_at_v, irradiance_w_m2, cell_temperature_c);
  }

 private:
  OfferShape shape_;
  PanelRating rating_;
  PanelCurve curve_;
};

}  // namespace

OfferShape offer_shape(const Site& site) {
  const PanelRating rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  OfferShape shape{};
  shape.noct_c = site.panel.noct_c;
  shape.converts = site.regulator.kind == RegulatorKind::mppt;
  if (shape.converts) {
    shape.temp_coeff_power_pct_k = rating.temp_coeff_power_pct_k;
    return shape;
  }
  shape.vmp_v = to_a_billionth(rating.vmp_v);
  shape.voc_v = to_a_billionth(rating.voc_v);
  shape.imp_a = rating.isc_a > 0 ? to_a_billionth(rating.imp_a / rating.isc_a) : 1;
  shape.temp_coeff_voc_pct_k = rating.temp_coeff_voc_pct_k;
  shape.held_at_v = charging_voltage_v(site.battery) / site.panel.series;
  return shape;
}

double offer_size(const Site& site) {
  const Panel& panel = site.panel;
  const double kept = 1 - panel.losses_share;
  if (site.regulator.kind == RegulatorKind::mppt) {
    return panel.count * panel.power_w * kept * site.regulator.efficiency_share /
           charging_voltage_v(site.battery);
  }
  // Without a converter a string's current flows, whatever its voltage: losses take current here.
  const double strings = static_cast<double>(panel.count) / panel.series;
  return strings * kept * panel_rating(panel, site.battery.bank_voltage_v()).isc_a;
}

double offer_limit_a(const Site& site) {
  return site.regulator.max_current_a.value_or(std::numeric_limits<double>::infinity());
}

std::vector<double> unit_offer(const OfferShape& shape, const SunYear& year) {
  const UnitCurrent unit(shape);
  std::vector<double> current(kHoursPerYear, 0.0);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    const double sun = year.plane_w_m2[h];
    if (sun > 0) current[h] = unit.at(sun, cell_temp_c(year.air_temp_c[h], sun, shape.noct_c));
  }
  return current;
}

double delivered_current_a(const Site& site, double irradiance_w_m2, double cell_temperature_c) {
  return UnitCurrent(offer_shape(site)).at(irradiance_w_m2, cell_temperature_c) * offer_size(site);
}

ChargeOffer charge_offer(const Site& site, const SunYear& year) {
  ChargeOffer offer{};
  offer.current_a = unit_offer(offer_shape(site), year);
  const double size = offer_size(site);
  const double limit_a = offer_limit_a(site);
  for (double& current : offer.current_a) {
    const SizedOfferOf<double> sized = sized_offer<ScalarArithmetic>(current, size, limit_a);
    current = sized.current_a;
    offer.clipped_ah += sized.clipped_a;
  }
  const PanelRating rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  offer.full_sun_w =
      delivered_current_a(site, kLabelSun_w_m2, kLabelCell_c) * charging_voltage_v(site.battery);
  offer.full_sun_panel_w = site.panel.count * max_power_w(rating, kLabelSun_w_m2, kLabelCell_c) *
                           (1 - site.panel.losses_share);
  return offer;
}

double standby_current_a(const Site& site) {
  return site.regulator.standby.current_a(site.battery.bank_voltage_v());
}

double absorption_voltage_v(const Site& site) {
  return site.regulator.absorption_v.value_or(battery_type(site.battery.kind).absorption_cell_v *
                                              bank_cells(site.battery));
}

double filled_share(const Site& site) {
  if (!site.regulator.absorption_v) return 1;
  return charge_held_at_voltage(site.battery, *site.regulator.absorption_v);
}

double drawable_share(const Site& site, double draw_a) {
  const std::optional<Threshold>& cutoff = site.regulator.cutoff;
  const double to_empty = rate_factor(site.battery, draw_a);
  if (!cutoff) return to_empty;
  if (cutoff->unit == Threshold::Unit::state_of_charge) {
    return std::min(to_empty, 1 - cutoff->value);
  }
  return to_empty * (1 - charge_left_at_voltage(site.battery, cutoff->value, draw_a));
}

LoadSwitch load_switch(const Site& site, double draw_a) {
  const Regulator& regulator = site.regulator;
  if (!regulator.cutoff) return {.cuts_off = false, .cutoff_share = 0, .reconnect_share = 0};
  LoadSwitch out{.cuts_off = true,
                 .cutoff_share = std::max(1 - drawable_share(site, draw_a), 0.0),
                 .reconnect_share = 0};
  if (!regulator.reconnect) {
    out.reconnect_share = out.cutoff_share + kUsualReconnectGap;
  } else if (regulator.reconnect->unit == Threshold::Unit::state_of_charge) {
    out.reconnect_share = regulator.reconnect->value;
  } else {
    out.reconnect_share = state_of_charge_charging(site.battery, regulator.reconnect->value);
  }
  // A battery is hardly ever quite full, so loads never wait for that.
  constexpr double kLatestReconnect = 0.95;
  out.reconnect_share = std::max(out.cutoff_share, std::min(out.reconnect_share, kLatestReconnect));
  return out;
}

}  // namespace amptally::inline v0_1
