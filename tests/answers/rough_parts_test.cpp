#include <cmath>

#include "amptally/rough_sun.hpp"
#include "amptally/rough_water.hpp"
#include "amptally/rough_wiring.hpp"
#include "amptally/water.hpp"
#include "amptally/wiring.hpp"

#include "catch.hpp"
#include "sites.hpp"

// Cases are spread evenly between the ends of a range: a tenth of them lies below a tenth of the
// way, and so on, within the grain of 128 cases.

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Ten to twenty litres a day through a hose, from a tank that nobody fills.
Site watered_site() {
  Site site = testing::plain_site();
  site.water = Water{.tank = Tank{.volume_l = 300},
                     .lines = {{.name = "beds",
                                .pump = WaterPump{.flow_l_h = 240, .head_m = 3},
                                .tube = Tube{.length_m = 12, .bore_mm = 9},
                                .demand = DailyVolume{15}}}};
  site.rough = {{"water.lines[0].demand", 10, 20, "L"}};
  return site;
}

Site wired_site() {
  Site site = testing::plain_site();
  Load pump = testing::always(3, "pump");
  pump.schedule = PerDay{20};
  site.loads = {pump};
  site.wiring = {{.name = "pump", .feeds = "pump", .length_m = 9, .section_mm2 = 2.5}};
  site.rough = {{"loads[0].draw", 2, 4, "A"}};
  return site;
}

}  // namespace

TEST_CASE("the sun is told over the ranges of a site and the shipped table's error",
          "[rough][sun]") {
  Site site = testing::plain_site();
  site.place.sun_horizontal_kwh_m2_day = {1.5, 2.3, 3.4, 4.1, 4.8, 5.3,
                                          5.4, 4.8, 3.9, 2.5, 1.6, 1.3};
  site.place.climate.own_sun = false;
  site.place.climate.uncertainty_share = 0.1;
  const RoughSun rough = study_rough_sun(site);
  CHECK(rough.climate_error_share == 0.1);
  // Spread evenly over 1 +- sqrt(3) x 0.1: a tenth of the cases lies a tenth of the way in.
  const double edge = 0.8 * std::sqrt(3.0) * 0.1;
  for (std::size_t m = 0; m < 12; ++m) {
    const double middle = site.place.sun_horizontal_kwh_m2_day[m];
    CHECK_THAT(rough.sun_horizontal_kwh_m2_day[m].p10, WithinRel(middle * (1 - edge), 0.01));
    CHECK_THAT(rough.sun_horizontal_kwh_m2_day[m].p50, WithinRel(middle, 0.01));
    CHECK_THAT(rough.sun_horizontal_kwh_m2_day[m].p90, WithinRel(middle * (1 + edge), 0.01));
    CHECK(rough.sun_panel_kwh_m2_day[m].p90 > rough.sun_panel_kwh_m2_day[m].p10);
  }
  const RoughSun exact = study_rough_sun(site, {.exact_climate = true});
  CHECK(exact.climate_error_share == 0);
  CHECK(exact.panel_year_kwh_m2.p10 == exact.panel_year_kwh_m2.p90);
  site.rough = {{"panel.tilt", 0, 90, "deg"}};
  const RoughSun tilted = study_rough_sun(site, {.exact_climate = true});
  CHECK(tilted.sun_panel_kwh_m2_day[11].p90 > 1.2 * tilted.sun_panel_kwh_m2_day[11].p10);
  CHECK(tilted.sun_horizontal_kwh_m2_day[11].p90 == tilted.sun_horizontal_kwh_m2_day[11].p10);
}

TEST_CASE("water is told over the ranges of a site", "[rough][water]") {
  const Site site = watered_site();
  const RoughWater rough = study_rough_water(site);
  const double flow_l_h = study_water(site).lines[0].flow->flow_l_h;
  CHECK(rough.cases == 128);
  CHECK(rough.failed_cases == 0);
  CHECK(rough.holds_share == 1);
  REQUIRE(rough.lines.size() == 1);
  const RoughLine& line = rough.lines[0];
  CHECK_THAT(line.flow_l_h->p10, WithinRel(flow_l_h, 1e-12));
  CHECK_THAT(line.flow_l_h->p90, WithinRel(flow_l_h, 1e-12));
  CHECK_THAT(line.longest_minutes_day->p10, WithinRel(11 / flow_l_h * 60, 0.02));
  CHECK_THAT(line.longest_minutes_day->p50, WithinRel(15 / flow_l_h * 60, 0.02));
  CHECK_THAT(line.longest_minutes_day->p90, WithinRel(19 / flow_l_h * 60, 0.02));
  CHECK_FALSE(line.siphon_night_l);
  CHECK_THAT(rough.tank->days_to_empty->p10, WithinRel(300.0 / 19, 0.02));
  CHECK_THAT(rough.tank->days_to_empty->p90, WithinRel(300.0 / 11, 0.02));
  CHECK_FALSE(rough.tank->dry_days);
}

TEST_CASE("cases in which a line brings no water are counted, and enough in none of them",
          "[rough][water]") {
  Site site = watered_site();
  // The pump's 3 m lift water in half of the cases.
  site.water->lines[0].lift_m = 2.9;
  site.rough = {{"water.lines[0].lift", 2, 4, "m"}};
  const RoughWater rough = study_rough_water(site);
  CHECK_THAT(rough.failed_cases / 128.0, WithinAbs(0.5, 0.02));
  CHECK_THAT(rough.holds_share, WithinAbs(0.5, 0.02));
  CHECK(rough.lines[0].flow_l_h->p10 < rough.lines[0].flow_l_h->p90);
}

TEST_CASE("a line that siphons in some cases siphons nothing in the others", "[rough][water]") {
  Site site = watered_site();
  site.water->tank->level_m = 1;
  site.water->lines[0].lift_m = -0.1;
  site.rough = {{"water.lines[0].lift", -0.5, 0.5, "m"}};
  const RoughWater rough = study_rough_water(site);
  CHECK(rough.lines[0].siphon_night_l->p10 == 0);
  // All that lies above the outlets, at the level of the tank's nine tenths downwards.
  CHECK_THAT(rough.lines[0].siphon_night_l->p90, WithinRel(300 * 0.4, 0.03));
}

TEST_CASE("lines of very many outlets are told over fewer cases", "[rough][water]") {
  Site site = watered_site();
  WaterLine& line = site.water->lines[0];
  line.outlets = Outlets{.count = 1000, .flow_l_h = 0.1, .at_m = 2};
  CHECK(study_rough_water(site).cases == 128);
  line.outlets->count = 4000;
  CHECK(study_rough_water(site).cases == 32);
  line.outlets->count = 10000;
  CHECK(study_rough_water(site).cases == 16);
  CHECK(study_rough_water(site, {.cases = 5}).cases == 5);
}

TEST_CASE("the shipped sun's error counts where a crop's thirst follows from it",
          "[rough][water]") {
  Site site = watered_site();
  site.place.climate.own_sun = false;
  site.place.climate.uncertainty_share = 0.1;
  CHECK(study_rough_water(site).climate_error_share == 0);
  site.water->lines[0].demand = CropDemand{.area_m2 = 3, .crop = "tomato"};
  site.rough = {{"water.lines[0].tube.length", 11, 13, "m"}};
  const RoughWater rough = study_rough_water(site);
  CHECK(rough.climate_error_share == 0.1);
  const RoughWater exact = study_rough_water(site, {.exact_climate = true});
  CHECK(exact.climate_error_share == 0);
  const auto width = [](const Spread& spread) { return spread.p90 - spread.p10; };
  CHECK(width(*exact.tank->days_to_empty) == 0);
  CHECK(width(*rough.tank->days_to_empty) > 0);
}

TEST_CASE("cables are told over the ranges of a site", "[rough][wiring]") {
  Site site = wired_site();
  const CableCheck middle = check_wiring(site, prepare(site))[0];
  // Just what three amperes drop, which is so for half of the cases.
  site.wiring[0].max_drop_share = middle.drop_share;
  const RoughWiring rough = study_rough_wiring(site);
  CHECK(rough.failed_cases == 0);
  REQUIRE(rough.cables.size() == 1);
  const RoughCable& cable = rough.cables[0];
  CHECK(cable.name == "pump");
  CHECK_THAT(cable.current_a.p10, WithinRel(2.2, 0.02));
  CHECK_THAT(cable.current_a.p50, WithinRel(3.0, 0.02));
  CHECK_THAT(cable.current_a.p90, WithinRel(3.8, 0.02));
  CHECK_THAT(cable.drop_share.p90, WithinRel(3.8 / 3 * middle.drop_share, 0.02));
  // The square of the current.
  CHECK_THAT(cable.loss_wh_day.p90, WithinRel(std::pow(3.8 / 3, 2) * middle.loss_wh_day, 0.03));
  CHECK_THAT(cable.holds_share, WithinAbs(0.5, 0.02));
  CHECK(rough.holds_share == cable.holds_share);
}

TEST_CASE("without ranges every case is the same", "[rough][water][wiring]") {
  Site site = watered_site();
  site.rough.clear();
  const RoughWater water = study_rough_water(site, {.cases = 3});
  CHECK(water.lines[0].flow_l_h->p10 == water.lines[0].flow_l_h->p90);
  CHECK(water.holds_share == 1);
  Site wired = wired_site();
  wired.rough.clear();
  const RoughWiring wiring = study_rough_wiring(wired, {.cases = 3});
  CHECK(wiring.cables[0].loss_wh_day.p10 == wiring.cables[0].loss_wh_day.p90);
  CHECK_THROWS(study_rough_wiring(wired, {.cases = 0}));
}
