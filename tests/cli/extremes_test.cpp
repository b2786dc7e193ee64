#include <algorithm>
#include <cmath>
#include <numeric>

#include "amptally/balance.hpp"
#include "amptally/error.hpp"
#include "amptally/water.hpp"

#include "catch.hpp"
#include "sites.hpp"

// The ends of what can be written down, and what must be true there. All figures are ours.

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using testing::always;

namespace {

/// A plain site elsewhere, its sun half of what reaches the top of the air.
Site at_latitude(double latitude_deg) {
  Site site = testing::plain_site();
  site.place.latitude_deg = latitude_deg;
  for (int m = 0; m < 12; ++m) {
    site.place.sun_horizontal_kwh_m2_day[static_cast<std::size_t>(m)] =
        0.5 * extraterrestrial_month_kwh_m2_day(latitude_deg, m);
  }
  site.panel.tilt_deg = 60;
  site.panel.azimuth_deg = latitude_deg < 0 ? 0 : 180;
  site.loads = {always(0.25)};
  return site;
}

double sun_on_panel(Site site, double azimuth_deg) {
  site.panel.azimuth_deg = azimuth_deg;
  return simulate(site).balance.year.sun_panel_kwh_m2;
}

/// Half the year dark, half of it light, and no side of the panel better than another.
void check_pole(const Site& site, std::size_t dark_month, std::size_t light_month) {
  const Balance balance = simulate(site).balance;
  CHECK(balance.months[dark_month].charge_ah_day == 0);
  CHECK(balance.months[dark_month].sun_panel_kwh_m2_day == 0);
  CHECK(balance.months[dark_month].shortfall_days == days_in_month(static_cast<int>(dark_month)));
  CHECK(balance.months[light_month].shortfall_days == 0);
  const double facing = sun_on_panel(site, 180);
  CHECK(facing > 0);
  for (const double azimuth_deg : {0.0, 90.0, 270.0}) {
    CHECK_THAT(sun_on_panel(site, azimuth_deg), WithinRel(facing, 0.03));
  }
}

Site watering(double flow_l_h, double litres_a_day, double tank_l) {
  Site site = testing::plain_site();
  WaterLine line{.name = "bed",
                 .pump = WaterPump{.flow_l_h = flow_l_h, .head_m = 10},
                 .tube = Tube{.length_m = 0.001, .bore_mm = 1000},  // as good as none
                 .demand = DailyVolume{litres_a_day}};
  site.water = Water{.tank = Tank{.volume_l = tank_l}, .lines = {line}};
  Load pump = always(0.1, "pump");
  pump.schedule = FromWater{"bed"};
  site.loads = {pump};
  return site;
}

}  // namespace

TEST_CASE("at the north pole the winter is dark and every azimuth of the panel gives the same",
          "[extremes]") {
  check_pole(at_latitude(90), 11, 5);
}

TEST_CASE("at the south pole June is dark and every azimuth of the panel gives the same",
          "[extremes]") {
  check_pole(at_latitude(-90), 5, 11);
}

TEST_CASE("in polar night a battery has only what it holds", "[extremes]") {
  Site site = at_latitude(75);
  const Balance small = simulate(site).balance;
  CHECK(small.months[11].charge_ah_day == 0);
  CHECK(small.months[11].shortfall_days == 31);
  CHECK(small.months[6].shortfall_days == 0);
  site.battery.capacity_ah = 6 * 200;  // 6 Ah a day, and from October to March little sun
  const Balance large = simulate(site).balance;
  CHECK(large.months[11].charge_ah_day == 0);
  CHECK(large.year.shortfall_days == 0);
  CHECK(large.year.longest_dull_days >= 90);  // over New Year: the sun is gone for 100 days
}

TEST_CASE("without loads nothing is used and autonomy is endless", "[extremes]") {
  const Balance balance = simulate(testing::plain_site()).balance;
  CHECK(balance.holds());
  CHECK(balance.year.use_ah == 0);
  CHECK(balance.year.served_share == 1);
  CHECK(std::isinf(balance.year.autonomy_days));
  // What is charged is what leaked, and what charging lost; the rest is turned away.
  CHECK_THAT(balance.ledger.charge_ah - balance.ledger.turned_away_ah,
             WithinRel(balance.ledger.self_discharge_ah + balance.ledger.charging_loss_ah, 1e-6));
}

TEST_CASE("a panel of 0 W is no panel", "[extremes]") {
  Site site = testing::plain_site();
  site.panel.power_w = 0;
  site.loads = {always(0.25)};
  for (const RegulatorKind kind : {RegulatorKind::pwm, RegulatorKind::mppt, RegulatorKind::none}) {
    site.regulator.kind = kind;
    const Balance balance = simulate(site).balance;
    CHECK(balance.year.charge_ah == 0);
    CHECK(balance.year.shortfall_days == 365);
    CHECK_THAT(balance.year.served_share, WithinAbs(0, 1e-9));
    CHECK(balance.year.longest_dull_days == 365);
    CHECK_THAT(balance.year.autonomy_days, WithinRel(25.0 / 6, 1e-12));  // as with any panel
  }
}

TEST_CASE("a panel facing away gets light from the sky and little sun", "[extremes]") {
  Site site = at_latitude(55);
  site.panel.tilt_deg = 90;
  site.panel.azimuth_deg = 0;
  const Balance away = simulate(site).balance;
  site.panel.azimuth_deg = 180;
  const Balance facing = simulate(site).balance;
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthBalance& month = away.months[m];
    CHECK(month.sun_panel_kwh_m2_day > 0);
    // Half the sky and, by the ground, half of a fifth: what a wall sees at most in winter, when
    // the sun stays in the south.
    if (m < 2 || m > 9) {
      CHECK(month.sun_panel_kwh_m2_day < 0.6 * month.sun_horizontal_kwh_m2_day);
    }
    CHECK(month.sun_panel_kwh_m2_day < facing.months[m].sun_panel_kwh_m2_day);
  }
  CHECK(away.year.charge_ah < facing.year.charge_ah);
}

TEST_CASE("a battery of 1 mAh bridges nothing", "[extremes]") {
  Site site = testing::plain_site();
  site.loads = {always(0.25)};
  site.battery.capacity_ah = 0.001;
  const Balance balance = simulate(site).balance;
  CHECK(balance.year.shortfall_days == 365);  // each night
  CHECK_FALSE(balance.holds());
  CHECK(balance.year.autonomy_days < 0.001);
  // A draw 5,000 times its twenty-hour current makes it flat at once.
  CHECK(balance.year.deepest_discharge < 0.05);
  // On the equator half of the hours are light, the first and last of them dim.
  CHECK(balance.year.served_share > 0.4);
  CHECK(balance.year.served_share < 0.51);
}

TEST_CASE("a battery of 1 MAh serves all, and leaks more than the panel brings", "[extremes]") {
  Site site = testing::plain_site();
  site.loads = {always(0.25)};
  site.battery.capacity_ah = 1e5;
  site.battery.parallel = 10;
  const Balance balance = simulate(site).balance;
  CHECK(balance.year.shortfall_days == 0);
  CHECK(balance.year.served_share == 1);
  CHECK_THAT(balance.ledger.error_ah(), WithinAbs(0, 1e-12 * 1e6));
  CHECK_THAT(balance.year.autonomy_days, WithinRel(0.5e6 / 6, 1e-12));
  // Steady, it has sunk to where its leak is what the panel brings beyond the load.
  CHECK(balance.year.deepest_discharge > 0.9);
  CHECK_FALSE(balance.holds());
  CHECK(balance.ledger.turned_away_ah < 1e-4 * balance.ledger.charge_ah);
  CHECK_THAT(balance.ledger.self_discharge_ah,
             WithinRel(balance.ledger.charge_ah - balance.ledger.served_ah -
                           balance.ledger.charging_loss_ah,
                       1e-3));
}

TEST_CASE("a load larger than the battery gets what is there", "[extremes]") {
  Site site = testing::plain_site();
  site.battery.capacity_ah = 7;
  Load pump = always(50, "pump");
  pump.schedule = Runs{{{.at_min = 0, .for_minutes = 60}}};  // at midnight, without sun
  site.loads = {pump};
  const Balance balance = simulate(site).balance;
  CHECK(balance.year.shortfall_days == 365);
  CHECK(balance.year.served_share < 7.0 / 50);
  CHECK(balance.year.served_share > 0);
  // At 50 A a battery of 7 Ah is flat when a fifth is out; the loads are off until midnight.
  const double at_50_a = rate_factor(site.battery, 50);
  CHECK(at_50_a < 0.25);
  CHECK_THAT(balance.year.deepest_discharge, WithinAbs(at_50_a, 0.01));
  CHECK_THAT(balance.ledger.served_ah, WithinRel(balance.year.served_share * 365 * 50, 1e-9));
}

TEST_CASE("a tank of a cup is dry every day, one of a pond never", "[extremes]") {
  Site dripping = watering(100, 50, 0.2);
  dripping.water->tank->refill_l_month.assign(12, 0.01);
  const WaterStudy drops = study_water(dripping);
  CHECK(drops.tank->dry_days == 365);
  CHECK_FALSE(drops.holds());
  CHECK(drops.tank->use_l < 1);
  const WaterStudy cup = study_water(watering(100, 50, 0.2));
  CHECK_THAT(*cup.tank->days_to_empty, WithinRel(0.2 / 50, 1e-9));
  CHECK_FALSE(cup.holds());
  const WaterStudy pond = study_water(watering(100, 50, 1e6));
  CHECK(pond.tank->dry_days == 0);
  CHECK(pond.holds());
  CHECK_THAT(*pond.tank->days_to_empty, WithinRel(1e6 / 50, 1e-9));
}

TEST_CASE("a pump that just brings the demand runs all day, one that does not is refused",
          "[extremes]") {
  // No lift and a tube as good as none: the printed flow is what comes, but for what it takes to
  // move the water.
  const Simulation sim = simulate(watering(100 * (1 + 1e-10), 2400, 1e6));
  CHECK_THAT(sim.loads.load_ah[0], WithinRel(0.1 * kHoursPerYear, 1e-9));
  CHECK_THAT(*std::min_element(sim.loads.asked_ah.begin(), sim.loads.asked_ah.end()),
             WithinRel(0.1, 1e-9));
  CHECK_THROWS_AS(simulate(watering(100, 2401, 1e6)), InputError);
}

TEST_CASE("a pump at its shut-off head brings nothing and is refused", "[extremes]") {
  Site site = watering(100, 1, 1000);
  WaterLine& line = site.water->lines[0];
  line.lift_m = 10;
  CHECK_THROWS_AS(study_water(site), ModelError);
  line.lift_m = 10 * (1 - 1e-4);  // H = H0 (1 - (Q/Q0)^2): a hundredth of the flow
  CHECK_THAT(study_water(site).lines[0].flow->flow_l_h, WithinRel(1.0, 1e-6));
}
