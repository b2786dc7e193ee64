// Cables against published tables and worked examples.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <tuple>

#include "amptally/quantity.hpp"
#include "amptally/wiring.hpp"

#include "catch.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kMetresPerFoot = 0.3048;

const Conductor& conductor(ConductorStandard standard, std::string_view size) {
  const auto all = conductors();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Conductor& c) {
    return c.standard == standard && c.size == size;
  });
  REQUIRE(found != all.end());
  return *found;
}

double ohm_per_1000_ft(std::string_view gauge, double temp_c) {
  return resistance_ohm_m(conductor(ConductorStandard::awg, gauge), temp_c) * 1000 * kMetresPerFoot;
}

/// "10 A over 10.5 ft one way at 12 V with 3 % allowed", the fuse not looked at.
std::string_view gauge_for(double current_a, double one_way_ft, double voltage_v, double share) {
  const Conductor* const found =
      thinnest_conductor(ConductorStandard::awg, {.current_a = current_a,
                                                  .length_m = one_way_ft * kMetresPerFoot,
                                                  .voltage_v = voltage_v,
                                                  .max_drop_share = share});
  return found != nullptr ? found->size : "none";
}

}  // namespace

TEST_CASE("flexible conductors have the resistance of IEC 60228 class 5", "[wiring]") {
  // Source: IEC 60228:2004, class 5, plain copper, ohm/km at 20 deg C; read at second hand in two
  // public pages that agree.
  const std::pair<const char*, double> rows[] = {
      {"0.5", 39.0}, {"0.75", 26.0}, {"1", 19.5},   {"1.5", 13.3}, {"2.5", 7.98},
      {"4", 4.95},   {"6", 3.30},    {"10", 1.91},  {"16", 1.21},  {"25", 0.780},
      {"35", 0.554}, {"50", 0.386},  {"70", 0.272},
  };
  for (const auto& [size, ohm_km] : rows) {
    CAPTURE(size);
    CHECK_THAT(1000 * resistance_ohm_m(conductor(ConductorStandard::iec, size), 20),
               WithinAbs(ohm_km, 1e-9));
  }
}

TEST_CASE("gauges have the resistance of the code's table", "[wiring]") {
  // Source: NEC Chapter 9 Table 8, stranded uncoated copper, ohm per 1000 ft at 75 deg C; read at
  // second hand. Half the last printed digit, and half of that of the table in ohm/km.
  const std::tuple<const char*, double, double> rows[] = {
      {"18", 7.95, 0.005},  {"16", 4.99, 0.005},  {"14", 3.14, 0.005},
      {"12", 1.98, 0.005},  {"10", 1.24, 0.005},  {"8", 0.778, 0.0005},
      {"6", 0.491, 0.0005}, {"4", 0.308, 0.0005}, {"2", 0.194, 0.0005},
  };
  for (const auto& [gauge, ohm, half_digit] : rows) {
    CAPTURE(gauge);
    CHECK_THAT(ohm_per_1000_ft(gauge, 75), WithinAbs(ohm, half_digit));
  }
  // Source: a public table of solid copper at 20 deg C, read: 20 AWG, 10.15 ohm per 1000 ft.
  CHECK_THAT(ohm_per_1000_ft("20", 20), WithinAbs(10.15, 0.005));
}

TEST_CASE("what a cable may carry is the tables'", "[wiring]") {
  // Sources, all from memory: two conductors in free air, BS 7671 Table 4F3A (flexible cords) up to
  // 4 mm2, IEC 60364-5-52 method E from 6 mm2, NEC Table 400.5(A)(1) for gauges.
  using enum ConductorStandard;
  const std::tuple<ConductorStandard, const char*, double> rows[] = {
      {iec, "0.5", 3},  {iec, "0.75", 6}, {iec, "1", 10},   {iec, "1.5", 16}, {iec, "2.5", 25},
      {iec, "4", 32},   {iec, "6", 51},   {iec, "10", 70},  {iec, "16", 94},  {iec, "25", 119},
      {iec, "35", 148}, {iec, "50", 180}, {iec, "70", 232}, {awg, "18", 10},  {awg, "16", 13},
      {awg, "14", 18},  {awg, "12", 25},  {awg, "10", 30},  {awg, "8", 40},   {awg, "6", 55},
      {awg, "4", 70},   {awg, "2", 95},
  };
  for (const auto& [standard, size, ampacity_a] : rows) {
    CAPTURE(size);
    CHECK(conductor(standard, size).ampacity_a == ampacity_a);
  }
}

TEST_CASE("copper's resistance rises with temperature as IEC 60228 has it",
          "[wiring][printed-outside]") {
  // Source: IEC 60228:2004, factors that bring a resistance measured at T to 20 deg C; read at
  // second hand.
  const std::pair<double, double> rows[] = {
      {5, 1.064},  {10, 1.042}, {15, 1.020}, {20, 1.000}, {25, 0.980}, {30, 0.962}, {35, 0.943},
      {40, 0.926}, {50, 0.893}, {60, 0.862}, {70, 0.833}, {75, 0.820}, {80, 0.806}, {90, 0.781},
  };
  for (const auto& [temp_c, factor] : rows) {
    CAPTURE(temp_c);
    CHECK_THAT(1 / copper_resistance_ratio(temp_c), WithinAbs(factor, 0.0005));
  }
}

TEST_CASE("the section of a gauge is the code's", "[wiring][printed-outside]") {
  // Source: NEC Chapter 9 Table 8, areas in circular mils, rounded there to three or four figures.
  const std::pair<const char*, double> rows[] = {{"18", 1620}, {"16", 2580},  {"14", 4110},
                                                 {"12", 6530}, {"10", 10380}, {"8", 16510},
                                                 {"6", 26240}, {"4", 41740},  {"2", 66360}};
  constexpr double kCircularMil_mm2 = std::numbers::pi / 4 * 0.0254 * 0.0254;
  for (const auto& [gauge, circular_mils] : rows) {
    CAPTURE(gauge);
    const Quantity given = parse_quantity(std::string(gauge) + " AWG", Dimension::section);
    CHECK_THAT(given.middle, WithinRel(circular_mils * kCircularMil_mm2, 0.003));
  }
}

TEST_CASE("the section of a gauge follows ASTM B258", "[wiring][recomputed]") {
  // Source: ASTM B258: 0.005 in x 92^((36 - n)/39) across.
  for (const char* const gauge : {"18", "16", "14", "12", "10", "8", "6", "4", "2"}) {
    CAPTURE(gauge);
    const double across_mm = 0.127 * std::pow(92.0, (36 - std::stod(gauge)) / 39);
    const double section_mm2 = std::numbers::pi / 4 * across_mm * across_mm;
    const Conductor& shipped = conductor(ConductorStandard::awg, gauge);
    CHECK_THAT(shipped.section_mm2, WithinRel(section_mm2, 0.0005));
    const Quantity given = parse_quantity(std::string(gauge) + " AWG", Dimension::section);
    CHECK_THAT(given.middle, WithinRel(section_mm2, 1e-9));
  }
}

TEST_CASE("the voltage drop there and back is that of a worked example",
          "[wiring][printed-outside]") {
  // Source: a public page that works with NEC Chapter 9 Table 8, read: 4 A through 100 ft of 16 AWG
  // (4.99 ohm per 1000 ft) at 24 V lose 4.0 V, 16.7 %.
  const double lost_v = drop_v(
      {.current_a = 4, .length_m = 100 * kMetresPerFoot, .voltage_v = 24, .max_drop_share = 1},
      resistance_ohm_m(conductor(ConductorStandard::awg, "16"), 75));
  CHECK_THAT(lost_v, WithinRel(4.0, 0.005));
  CHECK_THAT(lost_v / 24, WithinRel(0.167, 0.006));
}

TEST_CASE("an index of voltage drop belongs to a gauge", "[wiring][printed-outside]") {
  // Source: a public page, read: index = amperes x feet one way / (volts x per cent); 4 AWG has 20.
  // 10 A over 100 ft at 24 V with 2 % allowed give 20.83, for which it takes 4 AWG all the same.
  const double per_foot_ohm = ohm_per_1000_ft("4", 20) / 1000;
  const double index = 1 / (2 * per_foot_ohm * 100);
  CHECK_THAT(index, WithinRel(20, 0.015));
  // By the figure, not the step, 4 AWG loses a little too much.
  CHECK(gauge_for(10, 100, 24, 0.02) == "2");
  CHECK(gauge_for(10, 100, 24, 0.023) == "4");
}

TEST_CASE("a boat's table of wires asks for the same gauges", "[wiring][printed-outside]") {
  // Source: a marine supplier's catalogue of 2021, pages 52-53, read: 10 A at 12 V over 21 ft there
  // and back take 10 AWG for 3 % and 16 AWG for 10 %.
  CHECK(gauge_for(10, 10.5, 12, 0.03) == "10");
  CHECK(gauge_for(10, 10.5, 12, 0.10) == "16");
}

TEST_CASE("a pump at another speed follows the affinity laws", "[wiring][printed-outside]") {
  // Source: Crane TP-410, example 7.33, read at second hand: 400 gal/min, 126 ft and 17.5 hp at
  // 3500 rev/min are 194, 29.7 and 2.0 at 1700.
  const PumpShares shares = affinity_shares(1700.0 / 3500);
  CHECK_THAT(400 * shares.flow_share, WithinAbs(194, 0.5));
  CHECK_THAT(126 * shares.head_share, WithinAbs(29.7, 0.05));
  CHECK_THAT(17.5 * shares.power_share, WithinAbs(2.0, 0.05));
}
