#include "amptally/wiring.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// 26 ohm/km of 0.75 mm2 at 20 deg C are 28.08 at 40.
constexpr double kLoopOhmPerMetre_0_75 = 2 * 0.02808;

/// A pump that runs half an hour a day, on 10 m of 0.75 mm2.
Site pump_site() {
  Site site = testing::plain_site();
  site.loads = {{.name = "pump",
                 .draw = {2, Draw::Unit::amperes},
                 .schedule = Runs{{{.at_min = 600, .for_minutes = 30}}},
                 .start_factor = 3}};
  site.wiring = {{.name = "pump", .feeds = "pump", .length_m = 10, .section_mm2 = 0.75}};
  return site;
}

std::vector<CableCheck> checks_of(const Site& site) { return check_wiring(site, prepare(site)); }
CableCheck check_of(const Site& site) { return checks_of(site).front(); }

}  // namespace

TEST_CASE("a load's cable is counted there and back, at 40 deg C", "[wiring]") {
  const CableCheck check = check_of(pump_site());
  const double loop_ohm = 10 * kLoopOhmPerMetre_0_75;
  CHECK_THAT(check.current_a, WithinAbs(2, 1e-12));
  CHECK_THAT(check.drop_v, WithinRel(2 * loop_ohm, 1e-12));
  CHECK_THAT(check.drop_share, WithinRel(2 * loop_ohm / 12, 1e-12));
  CHECK_THAT(check.voltage_at_load_v(), WithinRel(12 - 2 * loop_ohm, 1e-12));
  CHECK_THAT(check.start_drop_share, WithinRel(3 * check.drop_share, 1e-12));
  CHECK_THAT(check.loss_wh_day, WithinRel(2 * 2 * loop_ohm * 0.5, 1e-9));
  REQUIRE(check.pump_flow_share);
  CHECK_THAT(*check.pump_flow_share, WithinRel(1 - check.drop_share, 1e-12));
  CHECK_FALSE(check.keeps_drop());
  CHECK(check.fuse_a == 3.0);
  CHECK(check.assumption.empty());
}

TEST_CASE("a cable carries a load's watts, copies and idle draw", "[wiring]") {
  Site site = pump_site();
  site.loads[0].draw = {12, Draw::Unit::watts};
  site.loads[0].count = 2;
  site.loads[0].idle = Draw{0.1, Draw::Unit::amperes};
  const CableCheck check = check_of(site);
  CHECK_THAT(check.current_a, WithinAbs(2, 1e-12));
  const double loop_ohm = 10 * kLoopOhmPerMetre_0_75;
  CHECK_THAT(check.loss_wh_day, WithinRel(loop_ohm * (2 * 2 * 0.5 + 0.2 * 0.2 * 23.5), 1e-9));
}

TEST_CASE("the cable size offered keeps within the drop, and the next thinner one does not",
          "[wiring][property]") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    testing::Dice dice(seed);
    const Circuit circuit{.current_a = dice.between(0.01, 30),
                          .length_m = dice.between(0.5, 60),
                          .voltage_v = dice.between(5, 60),
                          .max_drop_share = dice.between(0.005, 0.1),
                          .fuse_a = dice.between(0, 45)};
    const auto would_do = [&](const Conductor& conductor) {
      return drop_v(circuit, resistance_ohm_m(conductor)) <=
                 circuit.max_drop_share * circuit.voltage_v &&
             conductor.ampacity_a >= circuit.fuse_a;
    };
    for (const auto standard : {ConductorStandard::iec, ConductorStandard::awg}) {
      const Conductor* const found = thinnest_conductor(standard, circuit);
      CAPTURE(seed);
      if (found) CHECK(would_do(*found));
      for (const Conductor& conductor : conductors()) {
        if (conductor.standard != standard) continue;
        const bool thinner = !found || conductor.section_mm2 < found->section_mm2;
        if (thinner) CHECK_FALSE(would_do(conductor));
      }
    }
  }
}

TEST_CASE("a longer cable and more current never lose less", "[wiring][property]") {
  double before = 0;
  for (double length_m = 1; length_m < 100; length_m *= 1.5) {
    Site site = pump_site();
    site.wiring[0].length_m = length_m;
    const CableCheck check = check_of(site);
    CHECK(check.drop_v > before);
    before = check.drop_v;
  }
}

TEST_CASE("a cable without a section gets the figures of the section that would do", "[wiring]") {
  Site site = pump_site();
  site.wiring[0].section_mm2.reset();
  const CableCheck check = check_of(site);
  REQUIRE(check.thinnest_iec);
  CHECK(check.thinnest_iec->size == "2.5");  // 2 A x 20 m at 40 deg C: 1.5 mm2 4.8 %, 2.5 mm2 2.9 %
  CHECK(check.section_mm2 == 2.5);
  CHECK(check.does());
  REQUIRE(check.thinnest_awg);
  CHECK(check.thinnest_awg->size == "12");  // 14 AWG 3.04 %
}

TEST_CASE("where no cable would do, the thickest is shown to fail", "[wiring]") {
  Site site = pump_site();
  site.wiring[0].section_mm2.reset();
  site.wiring[0].length_m = 9000;
  const CableCheck check = check_of(site);
  CHECK(check.thinnest_iec == nullptr);
  CHECK(check.thinnest_awg == nullptr);
  CHECK(check.section_mm2 == 70);
  CHECK_FALSE(check.does());
  CHECK(check.pump_flow_share == std::max(0.0, 1 - check.drop_share));
}

TEST_CASE("a gauge is found in the table", "[wiring]") {
  Site site = pump_site();
  site.wiring[0].section_mm2 = 0.8231;  // 18 AWG
  const CableCheck check = check_of(site);
  CHECK(check.assumption.empty());
  CHECK(check.ampacity_a == 10);
}

TEST_CASE("a section that is not sold is scaled by area and said", "[wiring]") {
  Site site = pump_site();
  site.wiring[0].section_mm2 = 0.6;
  CableCheck check = check_of(site);
  // 39.0 ohm/km of 0.5 mm2, at 40 deg C.
  CHECK_THAT(check.drop_v, WithinRel(2 * 20 * 0.039 * 1.08 * 0.5 / 0.6, 1e-9));
  CHECK(check.ampacity_a == 3);
  CHECK(check.assumption.find("0.6 mm² is not in the table") == 0);
  // Chosen: within half a per cent of a size it is that size.
  site.wiring[0].section_mm2 = 1.0049 * 0.75;
  CHECK(check_of(site).assumption.empty());
  site.wiring[0].section_mm2 = 1.0051 * 0.75;
  CHECK_FALSE(check_of(site).assumption.empty());
  site.wiring[0].section_mm2 = 0.25;
  check = check_of(site);
  CHECK_THAT(check.ampacity_a, WithinAbs(1.5, 1e-12));
  CHECK_FALSE(check.fuse_a);  // 3 A would be needed
  CHECK_FALSE(check.does());
}

TEST_CASE("fuses come in steps, up to 40 A", "[wiring]") {
  CHECK(blade_fuse_a(0) == 1.0);
  CHECK(blade_fuse_a(2.5) == 3.0);
  CHECK(blade_fuse_a(5) == 5.0);
  CHECK(blade_fuse_a(7.6) == 10.0);
  CHECK(blade_fuse_a(40) == 40.0);
  CHECK_FALSE(blade_fuse_a(40.1));
}

TEST_CASE("a fuse larger than what the cable carries protects nothing", "[wiring]") {
  Site site = pump_site();
  site.loads[0].draw.value = 7;  // a fuse of 10 A, 0.75 mm2 carries 6 A
  site.wiring[0].length_m = 0.1;
  const CableCheck check = check_of(site);
  CHECK(check.keeps_drop());
  CHECK_FALSE(check.fuse_a);
  REQUIRE(check.thinnest_iec);
  CHECK(check.thinnest_iec->size == "1");
}

TEST_CASE("the panel's cable carries the panel's current", "[wiring]") {
  Site site = testing::plain_site();
  site.panel = {.power_w = 100,
                .count = 2,
                .vmp_v = 18,
                .imp_a = 5.56,
                .voc_v = 22,
                .isc_a = 6,
                .tilt_deg = 0,
                .azimuth_deg = 180};
  site.wiring = {{.name = "roof", .feeds = "panel", .length_m = 5, .section_mm2 = 4}};
  const Simulation prepared = prepare(site);
  CableCheck check = check_wiring(site, prepared).front();
  CHECK_THAT(check.current_a, WithinRel(2 * 5.56, 1e-12));
  CHECK_THAT(check.voltage_v, WithinRel(18, 1e-12));
  // 1.25 x 1.25 x 2 x 6 A, NEC 690.8.
  CHECK_THAT(check.fuse_needed_a, WithinRel(18.75, 1e-12));
  CHECK(check.fuse_a == 20.0);
  CHECK_FALSE(check.pump_flow_share);
  double square = 0;
  for (const double a : prepared.offer.current_a) square += a * a;
  const double loop_ohm = 2 * 5 * 0.00495 * 1.08;
  CHECK_THAT(check.loss_wh_day, WithinRel(square * loop_ohm / 365, 1e-9));

  // In series behind mppt: half the current, twice the voltage.
  site.panel.series = 2;
  site.regulator.kind = RegulatorKind::mppt;
  const Simulation converted = prepare(site);
  check = check_wiring(site, converted).front();
  CHECK_THAT(check.voltage_v, WithinRel(36, 1e-12));
  CHECK_THAT(check.current_a, WithinRel(5.56, 1e-12));
  // What arrives at the battery came through the cable at 36 V.
  double panel_square = 0;
  for (const double a : converted.offer.current_a) {
    const double panel_a = a * charging_voltage_v(site.battery) / 0.95 / 36;
    panel_square += panel_a * panel_a;
  }
  CHECK_THAT(check.loss_wh_day, WithinRel(panel_square * loop_ohm / 365, 1e-9));
}

TEST_CASE("the battery's cable carries all loads, or the charge", "[wiring]") {
  Site site = pump_site();
  site.regulator.standby = {0.05, Draw::Unit::amperes};
  site.loads.push_back(testing::always(12));
  site.wiring = {{.name = "battery", .feeds = "battery", .length_m = 1, .section_mm2 = 6}};
  CableCheck check = check_of(site);
  CHECK_THAT(check.current_a, WithinRel(14.05, 1e-12));
  CHECK_THAT(check.start_current_a, WithinRel(18.05, 1e-12));
  CHECK(check.fuse_a == 20.0);
  // Loads at night, all of them: mean square of a steady 12.05 A and of 2 A for half an hour.
  site.panel.power_w = 0;
  const double p = 0.5 / 24;
  const double square = p * 14.05 * 14.05 + (1 - p) * 12.05 * 12.05;
  CHECK_THAT(check_of(site).loss_wh_day, WithinRel(24 * square * 2 * 0.0033 * 1.08, 1e-6));
  // Few loads: the charge of full sun.
  site = pump_site();
  site.wiring = {{.name = "battery", .feeds = "battery", .length_m = 1, .section_mm2 = 6}};
  check = check_of(site);
  CHECK(check.current_a > 5);
  site.regulator.max_current_a = 4;
  CHECK_THAT(check_of(site).current_a, WithinRel(4, 1e-12));
}

TEST_CASE("the battery's cable carries the solenoid valves too", "[wiring]") {
  // Regression, 28 Nov 2026: they were missing. 4 W, see kSolenoid_w.
  Site site = pump_site();
  site.panel.power_w = 0;
  WaterLine line{.name = "bed",
                 .pump = WaterPump{.flow_l_h = 300, .head_m = 3},
                 .tube = Tube{.length_m = 5, .bore_mm = 9}};
  line.demand = DailyVolume{10};
  site.water = Water{.tank = {}, .lines = {line}};
  site.wiring = {{.name = "battery", .feeds = "battery", .length_m = 1, .section_mm2 = 6}};
  const CableCheck without = check_of(site);
  site.water->lines[0].valve = SiphonValve::solenoid;
  const CableCheck with = check_of(site);
  CHECK_THAT(with.current_a - without.current_a, WithinRel(4.0 / 12, 1e-9));
  CHECK(with.loss_wh_day > without.loss_wh_day);
}

TEST_CASE("cables of any site have finite figures", "[wiring][property]") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Site site = testing::random_site(seed);
    site.wiring = {{.name = "roof", .feeds = "panel", .length_m = 8},
                   {.name = "main", .feeds = "battery", .length_m = 1, .section_mm2 = 10}};
    for (const Load& load : site.loads) {
      site.wiring.push_back({.name = load.name, .feeds = load.name, .length_m = 6});
    }
    for (const CableCheck& check : checks_of(site)) {
      CAPTURE(seed, check.cable.name);
      REQUIRE(std::isfinite(check.drop_share));
      REQUIRE(check.drop_v >= 0);
      REQUIRE(std::isfinite(check.loss_wh_day));
      REQUIRE(check.loss_wh_day >= 0);
      // A cable cannot lose more than its running loss all day long.
      if (check.pump_flow_share) {
        REQUIRE(check.loss_wh_day <= 24 * check.current_a * check.drop_v * (1 + 1e-9));
      }
      if (check.fuse_a) REQUIRE(*check.fuse_a >= check.fuse_needed_a);
      if (check.fuse_a) REQUIRE(*check.fuse_a <= check.ampacity_a);
    }
  }
}
