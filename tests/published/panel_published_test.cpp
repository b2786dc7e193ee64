// Panels against published worked examples.

#include <cmath>

#include "amptally/panel.hpp"
#include "amptally/regulator.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A label whose curve is flat up to its maximum, as the worked examples of regulators take it.
Site flat_panel_site(double power_w, double vmp_v, double imp_a) {
  Site site = testing::plain_site();
  site.panel.power_w = power_w;
  site.panel.losses_share = 0;
  site.panel.vmp_v = vmp_v;
  site.panel.imp_a = imp_a;
  site.panel.voc_v = vmp_v / 0.81;
  site.panel.isc_a = imp_a * 1.002;
  return site;
}

double watts_into_12v(const Site& site) {
  const PanelRating rating = panel_rating(site.panel, 12);
  return 12 * PanelCurve(rating).current_a(12, 1000, 25);
}

}  // namespace

namespace {

// The single-diode equation of De Soto, Klein & Beckman 2006 (Solar Energy 80, 78-88), solved by
// halving: a slow second method. The modified ideality grows with the absolute temperature, the
// light current by 0.05 %/K; the diode's current makes the open circuit that of full sun.
// @param a_v, series_ohm  at 25 deg C
double single_diode_a(const PanelRating& label, double a_v, double series_ohm, double voltage_v,
                      double cell_c) {
  const double a = a_v * (cell_c + 273.15) / (25 + 273.15);
  const double light_a = label.isc_a * (1 + 0.0005 * (cell_c - 25));
  const double open_v = label.voc_v * (1 + label.temp_coeff_voc_pct_k / 100 * (cell_c - 25));
  double low = 0;
  double high = light_a;
  for (int i = 0; i < 100; ++i) {
    const double amps = (low + high) / 2;
    const double diode_a = light_a * std::exp((voltage_v + amps * series_ohm - open_v) / a);
    (light_a - diode_a > amps ? low : high) = amps;
  }
  return low;
}

}  // namespace

TEST_CASE("a hot and a cold panel follow the single-diode equation", "[panel][recomputed]") {
  // Source: De Soto, Klein & Beckman 2006, as above; the label's ideality and resistance from its
  // three points at 25 deg C, by the equations of panel.hpp.
  const PanelRating label = testing::usual_rating();
  const double rest = std::log(1 - label.imp_a / label.isc_a);
  const double a_v =
      (2 * label.vmp_v - label.voc_v) / (label.imp_a / (label.isc_a - label.imp_a) + rest);
  const double series_ohm = (a_v * rest + label.voc_v - label.vmp_v) / label.imp_a;
  const PanelCurve curve(label);
  for (const double cell_c : {-10.0, 25.0, 75.0}) {
    for (const double voltage_v : {0.0, 13.2, 16.0, 17.5}) {
      CAPTURE(cell_c, voltage_v);
      CHECK_THAT(curve.current_a(voltage_v, 1000, cell_c),
                 WithinAbs(single_diode_a(label, a_v, series_ohm, voltage_v, cell_c), 0.001));
    }
  }
}

TEST_CASE("a pwm regulator passes the panel's current, not its power", "[panel][printed-outside]") {
  // Source: two vendor education pages, read: 120 W panel, 17 V and 7 A at its maximum, on a 12 V
  // battery: 84 W arrive; 250 W panel, 30 V and 8 A: 96 W arrive, 154 W are lost, mppt would give
  // 20.83 A. They take the current to be the same at 12 V as at the maximum.
  CHECK_THAT(watts_into_12v(flat_panel_site(120, 17, 7)), WithinRel(84, 0.004));
  CHECK_THAT(watts_into_12v(flat_panel_site(250, 30, 8)), WithinRel(96, 0.004));
  const PanelRating rating = panel_rating(flat_panel_site(250, 30, 8).panel, 12);
  CHECK_THAT(max_power_w(rating, 1000, 25) / 12, WithinAbs(20.83, 0.005));
  CHECK_THAT(max_power_w(rating, 1000, 25) - 96, WithinAbs(154, 0.5));
}

TEST_CASE("an mppt regulator passes the panel's power less its losses",
          "[panel][printed-outside]") {
  // Source: Khan, Non-Conventional Energy Resources, example 6.4, as repeated in a public textbook
  // companion: 25 V, 5 A at the maximum, converter of 95 %: 118.75 W.
  Site site = flat_panel_site(125, 25, 5);
  site.regulator.kind = RegulatorKind::mppt;
  site.regulator.efficiency_share = 0.95;
  const double amps = delivered_current_a(site, 1000, 25);
  CHECK_THAT(amps * charging_voltage_v(site.battery), WithinAbs(118.75, 0.005));
}

TEST_CASE("cell temperature by NOCT and power at it are those of a worked example",
          "[panel][printed-outside]") {
  // Source: a public exercise, read: 300 W, NOCT 40 deg C, air 15 deg C, 1000 W/m2, -2 W/K: cells
  // at 40 deg C, 270 W.
  CHECK_THAT(cell_temp_c(15, 1000, 40), WithinAbs(40, 1e-9));
  PanelRating rating{};
  rating.power_w = 300;
  rating.temp_coeff_power_pct_k = -100 * 2.0 / 300;
  CHECK_THAT(max_power_w(rating, 1000, 40), WithinAbs(270, 1e-9));
}

TEST_CASE("cell temperature by NOCT is that of a course's generator", "[panel][recomputed]") {
  // Source: a course of a Spanish university, inputs read, result recomputed: 700 W/m2, air 34 deg
  // C, NOCT 43: 54.125 deg C.
  CHECK_THAT(cell_temp_c(34, 700, 43), WithinAbs(54.125, 1e-9));
  // Its 40 modules, ten in series, each 19.8 V, 3 A, 15.7 V and 2.8 A; 33 cells lose 2.3 mV/K each
  // (from memory): 175.89 V, 8.4 A, and 1093.5 W by a fill factor that stays; 0.2 %.
  PanelRating rating{};
  rating.power_w = 15.7 * 2.8;
  rating.voc_v = 19.8;
  rating.vmp_v = 15.7;
  rating.isc_a = 3;
  rating.imp_a = 2.8;
  rating.temp_coeff_voc_pct_k = -100 * 0.0023 * 33 / 19.8;
  rating.temp_coeff_power_pct_k = rating.temp_coeff_voc_pct_k;
  CHECK_THAT(10 * cold_voc_v(rating, 54.125), WithinRel(175.89, 0.002));
  CHECK_THAT(4 * PanelCurve(rating).current_a(0, 700, 25), WithinRel(8.4, 0.002));
  CHECK_THAT(40 * max_power_w(rating, 700, 54.125), WithinRel(1093.5, 0.002));
}

TEST_CASE("open-circuit voltage in the cold and string current follow the NEC",
          "[panel][printed-outside]") {
  // Source: an apprenticeship lesson citing NEC 2023, read: 49.5 V, -0.27 %/K, -10 deg C: 54.18 V
  // by the coefficient, 56.43 V by the table's 1.14; 11.2 A short-circuit: 17.5 A for the
  // conductor.
  PanelRating rating{};
  rating.voc_v = 49.5;
  rating.temp_coeff_voc_pct_k = -0.27;
  CHECK_THAT(cold_voc_v(rating, -10), WithinAbs(54.18, 0.005));
  CHECK_THAT(49.5 * nec_cold_voltage_factor(-10), WithinAbs(56.43, 0.005));
  CHECK_THAT(nec_string_current_a(11.2), WithinAbs(17.5, 0.005));
  // Source: an off-grid course, worked example, read, as corrected by its transcriber: two in
  // series of 38.9 V at -20 deg C: 91.8 V.
  CHECK_THAT(2 * 38.9 * nec_cold_voltage_factor(-20), WithinAbs(91.8, 0.05));
}

TEST_CASE("open-circuit voltage in the cold follows the whole of NEC Table 690.7", "[panel]") {
  // Source: NEC 2014 Table 690.7, read as an encoded table. Both ends of each row.
  struct Row {
    double high_c, low_c, factor;
  };
  constexpr Row kRows[] = {{24, 20, 1.02},   {19, 15, 1.04},   {14, 10, 1.06},   {9, 5, 1.08},
                           {4, 0, 1.10},     {-1, -5, 1.12},   {-6, -10, 1.14},  {-11, -15, 1.16},
                           {-16, -20, 1.18}, {-21, -25, 1.20}, {-26, -30, 1.21}, {-31, -35, 1.23},
                           {-36, -40, 1.25}};
  for (const Row& row : kRows) {
    CAPTURE(row.high_c);
    CHECK(nec_cold_voltage_factor(row.high_c) == row.factor);
    CHECK(nec_cold_voltage_factor(row.low_c) == row.factor);
  }
  CHECK(nec_cold_voltage_factor(25) == 1.0);
}
