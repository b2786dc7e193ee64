// What people in the trade expect to see. Every figure here is common practice, no source.

#include "amptally/balance.hpp"
#include "amptally/findings.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;

TEST_CASE("150 mA of standing draw is 3.6 Ah a day", "[balance][common-practice]") {
  // Common practice, no source.
  Site site = testing::plain_site();
  site.regulator.standby.value = 0.150;
  const Balance balance = simulate(site).balance;
  CHECK_THAT(balance.year.standby_ah / kDaysPerYear, WithinAbs(3.6, 1e-9));
  CHECK_THAT(balance.months[0].use_ah_day, WithinAbs(3.6, 1e-9));
}

TEST_CASE("a standing draw of 150 mA empties the usable half of 7 Ah in less than a day",
          "[balance][common-practice]") {
  // Common practice, no source.
  Site site = testing::plain_site();
  site.regulator.standby.value = 0.150;
  site.battery.capacity_ah = 7;
  const Balance balance = simulate(site).balance;
  CHECK(balance.year.autonomy_days < 1);
  CHECK(balance.year.autonomy_days > 0.9);  // 3.5 Ah / 3.6 Ah
}

TEST_CASE("two pumps of 350 mA at 12 V draw 8.4 W", "[load][common-practice]") {
  // Common practice, no source.
  Site site = testing::plain_site();
  Load pumps = testing::always(0.350, "pumps");
  pumps.count = 2;
  site.loads = {pumps};
  const Balance balance = simulate(site).balance;
  CHECK_THAT(balance.uses[0].wh_day / 24, WithinAbs(8.4, 1e-9));
}

TEST_CASE("a 120 W panel of 38 V on a 12 V battery through pwm gives half",
          "[panel][common-practice]") {
  // Common practice, no source: 45-60 W at full sun.
  Site site = testing::plain_site();
  site.panel.power_w = 120;
  site.panel.voc_v = 38;
  const Simulation sim = simulate(site);
  CHECK(sim.offer.full_sun_w > 45);
  CHECK(sim.offer.full_sun_w < 60);
}

TEST_CASE("shading a panel lowers what it can give", "[sun][common-practice]") {
  // Common practice, no source. More of it, and denser, lowers it more.
  Site site = testing::plain_site();
  double last = simulate(site).balance.year.charge_ah;
  for (const double top_deg : {10.0, 30.0, 60.0}) {
    for (const double blocks : {0.5, 1.0}) {
      site.panel.shade = {{.azimuth_from_deg = 45,
                           .azimuth_to_deg = 135,
                           .elevation_deg = top_deg,
                           .blocks_share = blocks}};
      const double charge = simulate(site).balance.year.charge_ah;
      CAPTURE(top_deg, blocks);
      if (blocks == 0.5 && top_deg > 10) continue;  // a thin tall one may pass more than a low wall
      CHECK(charge < last);
      last = charge;
    }
  }
}
