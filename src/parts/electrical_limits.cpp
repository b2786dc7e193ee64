#include "parts/electrical_limits.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "amptally/regulator.hpp"

namespace amptally::inline v0_1 {
namespace {

// Without a record the coldest hour of a mean year is not cold enough for a limit. Chosen: 15 K
// below the coldest month's mean; common practice, no source.
constexpr double kRecordBelowMonth_k = 15;

std::optional<std::string> too_cold(const Site& site, const PanelRating& rating) {
  if (!site.regulator.max_panel_voltage_v) return std::nullopt;
  const double cold_v = cold_string_v(site, rating);
  if (cold_v <= *site.regulator.max_panel_voltage_v) return std::nullopt;
  return fmt::format(
      "in the cold the panels reach {:.1f} V open-circuit, the regulator withstands {:.0f} V",
      cold_v, *site.regulator.max_panel_voltage_v);
}

// An mppt regulator takes no more than its limit from panels that could give more; behind pwm the
// panels' current flows as it is.
std::optional<std::string> too_strong(const Site& site, const PanelRating& rating) {
  if (!site.regulator.max_current_a || site.regulator.kind == RegulatorKind::mppt) {
    return std::nullopt;
  }
  const double most_a = kBrightClouds * short_circuit_a(site, rating);
  if (most_a <= *site.regulator.max_current_a) return std::nullopt;
  return fmt::format("the panels give up to {:.1f} A under bright clouds, the regulator takes {:g}",
                     most_a, *site.regulator.max_current_a);
}

std::optional<std::string> charges_too_hard(const Site& site) {
  const double limit_a = charge_limit_a(site.battery);
  const double full_a = full_charge_a(site);
  if (full_a <= limit_a) return std::nullopt;
  return fmt::format("full sun charges with {:.1f} A, the battery takes {:.1f} A", full_a, limit_a);
}

std::optional<std::string> too_hot(const Site& site, const PanelRating& rating,
                                   double hottest_air_c) {
  if (site.regulator.kind == RegulatorKind::mppt) return std::nullopt;
  const double cell_c = cell_temp_c(hottest_air_c, kLabelSun_w_m2, site.panel.noct_c);
  const double hot_v = hot_string_v(site, rating, cell_c);
  if (hot_v >= absorption_voltage_v(site)) return std::nullopt;
  return fmt::format("hot panels have their power at {:.1f} V, charging ends at {:.1f} V", hot_v,
                     absorption_voltage_v(site));
}

// Behind mppt the panels must stand above the battery for the converter to step down. Chosen: at
// the charging voltage; common practice, no source.
std::optional<std::string> too_low(const Site& site, const PanelRating& rating,
                                   double hottest_air_c) {
  if (site.regulator.kind != RegulatorKind::mppt) return std::nullopt;
  const double cell_c = cell_temp_c(hottest_air_c, kLabelSun_w_m2, site.panel.noct_c);
  const double hot_v = hot_string_v(site, rating, cell_c);
  if (hot_v >= charging_voltage_v(site.battery)) return std::nullopt;
  return fmt::format("hot panels give {:.1f} V, below the {:.1f} V of the charging battery", hot_v,
                     charging_voltage_v(site.battery));
}

}  // namespace

double record_low_c(const Site& site) {
  const Monthly& air = site.place.air_temp_c;
  return site.place.record_low_c.value_or(*std::min_element(air.begin(), air.end()) -
                                          kRecordBelowMonth_k);
}

std::string record_low_words(const Site& site) {
  return site.place.record_low_c
             ? fmt::format("the record low of {:.0f} °C", record_low_c(site))
             : fmt::format("{:.0f} °C (no record low given: {:.0f} K below the coldest month)",
                           record_low_c(site), kRecordBelowMonth_k);
}

double cold_string_v(const Site& site, const PanelRating& rating) {
  const double low_c = record_low_c(site);
  return site.panel.series *
         std::max(cold_voc_v(rating, low_c), rating.voc_v * nec_cold_voltage_factor(low_c));
}

double hot_string_v(const Site& site, const PanelRating& rating, double cell_c) {
  return site.panel.series * rating.vmp_v *
         (1 + rating.temp_coeff_voc_pct_k / 100 * (cell_c - kLabelCell_c));
}

double short_circuit_a(const Site& site, const PanelRating& rating) {
  return static_cast<double>(site.panel.count) / site.panel.series * rating.isc_a;
}

double full_charge_a(const Site& site) {
  const double full_a = delivered_current_a(site, kLabelSun_w_m2, kLabelCell_c);
  return std::min(full_a, site.regulator.max_current_a.value_or(full_a));
}

double charge_limit_a(const Battery& battery) {
  return battery.max_charge_current_a.value_or(battery_type(battery.kind).max_charge_c *
                                               battery.capacity_ah * battery.parallel);
}

std::optional<std::string> broken_limit(const Site& site, double hottest_air_c) {
  const PanelRating rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  if (auto broken = too_cold(site, rating)) return broken;
  if (auto broken = too_strong(site, rating)) return broken;
  if (auto broken = charges_too_hard(site)) return broken;
  if (auto broken = too_low(site, rating, hottest_air_c)) return broken;
  return too_hot(site, rating, hottest_air_c);
}

}  // namespace amptally::inline v0_1
