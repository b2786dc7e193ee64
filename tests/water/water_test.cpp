#include "amptally/water.hpp"

#include <algorithm>
#include <cmath>

#include "amptally/balance.hpp"
#include "amptally/error.hpp"
#include "amptally/findings.hpp"
#include "amptally/weather.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A tank of 100 L, 1 m deep, and a drip line to beds half-way up it.
Site watered_site() {
  Site site = testing::plain_site();
  site.water =
      Water{.tank = Tank{.volume_l = 100, .level_m = 1.0},
            .lines = {{.name = "beds",
                       .pump = WaterPump{.flow_l_h = 240, .head_m = 3},
                       .lift_m = 0,
                       .tube = Tube{.length_m = 12, .bore_mm = 9},
                       .outlets = Outlets{.count = 24, .flow_l_h = 2, .at_m = 1.5, .height_m = 0.5},
                       .demand = PlantDemand{.plants = 96, .each_l = 0.15},
                       .valve = SiphonValve::air_break}}};
  Load pump = testing::always(2, "drip pump");
  pump.schedule = FromWater{"beds"};
  site.loads.push_back(pump);
  return site;
}

WaterLine& line_of(Site& site) { return site.water->lines[0]; }

bool has_topic(const std::vector<Finding>& found, const std::string& topic) {
  return std::any_of(found.begin(), found.end(), [&](const auto& f) { return f.topic == topic; });
}

}  // namespace

TEST_CASE("a line's minutes are its demand over its flow", "[water]") {
  const Site site = watered_site();
  const WaterStudy study = study_water(site);
  REQUIRE(study.lines.size() == 1);
  const LineStudy& line = study.lines[0];
  CHECK_THAT((*line.demand_l_day)[0], WithinRel(14.4, 1e-12));
  // The place has one temperature, so every month has the year's flow.
  CHECK_THAT((*line.minutes_day)[0], WithinRel(14.4 / line.flow->flow_l_h * 60, 1e-9));
  CHECK_THAT((*line.use_ah_day)[0], WithinRel((*line.minutes_day)[0] / 60 * 2, 1e-12));
  CHECK(study.holds());  // nothing refills the tank, but a filling lasts days
}

TEST_CASE("a load takes its minutes from the line in every balance", "[water][load]") {
  Site site = watered_site();
  const double minutes = (*study_water(site).lines[0].minutes_day)[0];
  const Simulation sim = simulate(site);
  CHECK_THAT(sim.balance.uses[0].ah_day, WithinRel(2 * minutes / 60, 1e-9));
  // By day only: on the equator hours 0..4 are dark.
  CHECK(sim.loads.asked_ah[2] == 0);
  CHECK(sim.loads.asked_ah[12] > 0);
}

TEST_CASE("every second day a load runs for two days' water", "[water][load]") {
  Site site = watered_site();
  const double each_day = simulate(site).loads.load_ah[0];
  site.loads[0].every_days = 5;
  CHECK_THAT(simulate(site).loads.load_ah[0], WithinRel(each_day, 1e-9));
}

TEST_CASE("a line gives water in its load's months only", "[water]") {
  Site site = watered_site();
  site.loads[0].months = MonthSet(0b000111111000);  // April to September
  const LineStudy line = study_water(site).lines[0];
  CHECK((*line.demand_l_day)[0] == 0);
  CHECK((*line.minutes_day)[0] == 0);
  CHECK((*line.minutes_day)[5] > 0);
  CHECK_FALSE(study_water(site).tank->filling_days[1]);
  CHECK(study_water(site).tank->filling_days[5]);
}

TEST_CASE("watering longer than daylight goes on at night", "[water][load]") {
  Site site = watered_site();
  line_of(site).demand = DailyVolume{900};
  const double minutes = (*study_water(site).lines[0].minutes_day)[0];
  REQUIRE(minutes > 13 * 60);
  REQUIRE(minutes < 1440);
  const Simulation sim = prepare(site);
  CHECK_THAT(sim.loads.load_ah[0], WithinRel(365 * 2 * minutes / 60, 1e-9));
  CHECK_THAT(sim.loads.asked_ah[12], WithinRel(2.0, 1e-9));
  CHECK(sim.loads.asked_ah[2] > 0);
}

TEST_CASE("a solenoid valve is a use of its own", "[water][load]") {
  Site site = watered_site();
  line_of(site).valve = SiphonValve::solenoid;
  const Simulation sim = simulate(site);
  const auto& uses = sim.balance.uses;
  const auto valve = std::find_if(uses.begin(), uses.end(),
                                  [](const Use& use) { return use.name == "valve of beds"; });
  REQUIRE(valve != uses.end());
  const double minutes = (*study_water(site).lines[0].minutes_day)[0];
  CHECK_THAT(valve->wh_day, WithinRel(kSolenoid_w * minutes / 60, 1e-9));
  // The pump's 2 A and the valve's 4 W (common practice, no source) at 12 V.
  CHECK_THAT((*study_water(site).lines[0].use_ah_day)[0],
             WithinRel((2 + 4.0 / 12) * minutes / 60, 1e-9));
  line_of(site).demand.reset();
  CHECK(valve_loads(site).empty());
}

TEST_CASE("in cold water a line needs more minutes", "[water]") {
  Site site = watered_site();
  line_of(site).tube->bore_mm = 4;
  site.place.air_temp_c[0] = -5;
  site.place.air_temp_c[6] = 45;
  CHECK(water_temp_c(site.place)[0] == 1);
  CHECK(water_temp_c(site.place)[6] == 40);
  const Monthly minutes = *study_water(site).lines[0].minutes_day;
  CHECK(minutes[0] > minutes[1]);
  CHECK(minutes[6] < minutes[1]);
}

TEST_CASE("the next wider tube is offered where the tube takes much", "[water]") {
  Site site = watered_site();
  CHECK_FALSE(study_water(site).lines[0].wider);
  line_of(site).tube->bore_mm = 4;
  const LineStudy line = study_water(site).lines[0];
  REQUIRE(line.wider);
  CHECK(line.wider->bore_mm == 6);
  CHECK(line.wider->flow_l_h > line.flow->flow_l_h);
}

TEST_CASE("a wider tube is worth a word from a tenth more flow on", "[water]") {
  // Chosen. The next usual bore above 6 mm is 9 mm.
  Site site = watered_site();
  const double viscosity = water_viscosity_m2_s(25);
  int close = 0;
  for (double length_m = 1; length_m < 60; length_m *= 1.05) {
    line_of(site).tube = Tube{.length_m = length_m, .bore_mm = 6};
    WaterLine wider = line_of(site);
    wider.tube->bore_mm = 9;
    const double gain = line_flow(wider, 0, Drive::pump, viscosity).flow_l_h /
                        line_flow(line_of(site), 0, Drive::pump, viscosity).flow_l_h;
    CAPTURE(length_m, gain);
    CHECK(study_water(site).lines[0].wider.has_value() == (gain >= 1.1));
    close += gain > 1.06 && gain < 1.14;
  }
  CHECK(close > 0);
}

TEST_CASE("an outlet below the water siphons until something breaks it", "[water][siphon]") {
  Site site = watered_site();
  const double viscosity = water_viscosity_m2_s(25);
  const Tank& tank = *site.water->tank;
  CHECK_FALSE(line_siphon(tank, line_of(site), viscosity));
  line_of(site).valve = SiphonValve::solenoid;
  CHECK_FALSE(line_siphon(tank, line_of(site), viscosity));
  line_of(site).valve = SiphonValve::none;
  const auto siphon = line_siphon(tank, line_of(site), viscosity);
  REQUIRE(siphon);
  CHECK(siphon->until_m == 0.5);
  CHECK_THAT(siphon->flow_l_h,
             WithinRel(line_flow(line_of(site), -0.5, Drive::gravity, viscosity).flow_l_h, 1e-12));
  CHECK(siphon->night_l > 45);
  CHECK(siphon->night_l <= 50);
  CHECK(has_topic(water_findings(site, study_water(site)), "siphon"));
  site.water->tank->outlet_height_m = 0.7;
  CHECK(line_siphon(*site.water->tank, line_of(site), viscosity)->until_m == 0.7);
  line_of(site).outlets->height_m = 1.0;
  CHECK_FALSE(line_siphon(*site.water->tank, line_of(site), viscosity));
  site.water->tank->level_m.reset();
  CHECK_FALSE(line_siphon(*site.water->tank, line_of(site), viscosity));
}

TEST_CASE("a night's siphon drains what the closed form of an emptying tank says",
          "[water][siphon]") {
  // Outlets alone, q = k sqrt(h): h falls as (sqrt(h0) - k t / 2A)^2, exact.
  Site site = watered_site();
  WaterLine& line = line_of(site);
  line.tube.reset();
  line.valve = SiphonValve::none;
  line.outlets->count = 2;
  // The standing pump takes 3 m (q / 240)^2, so that h = (1/k0^2 + 3/240^2) q^2.
  const double k0_l_h = 2 * 2 / std::sqrt(1.5);
  const double k_l_h = 1 / std::sqrt(1 / (k0_l_h * k0_l_h) + 3.0 / (240 * 240));
  const double root = std::sqrt(0.5) - k_l_h / 100 * 12 / 2;
  const double lost_l = 100 * (0.5 - root * root);
  CHECK_THAT(line_siphon(*site.water->tank, line, 1e-6)->night_l, WithinRel(lost_l, 1e-4));
}

namespace {

// ---- A barrel that siphons empty, followed by Bernoulli and Darcy in steps of six seconds ------

struct Barrel {
  const char* name;
  double volume_l;
  double level_m;
  double end_m;     // height of the tube's open end
  double bottom_m;  // of the tank's own outlet
  double length_m;
  double bore_mm;
  double pump_l_h;  // printed; 0: none
  double pump_m;
};

// Speed at which `head_m` is all spent: (1 + 0.5 + f L/D) V^2/2g at the open end, the sharp
// entrance and along the tube, and the pump's head times the square of flow over printed flow.
double bernoulli_m_s(const Barrel& barrel, double head_m, double viscosity_m2_s) {
  constexpr double kGravity = 9.80665;
  const double bore_m = barrel.bore_mm / 1000;
  const double area_m2 = 3.14159265358979 * bore_m * bore_m / 4;
  double slow = 0;
  double fast = std::sqrt(2 * kGravity * head_m);
  for (int i = 0; i < 60; ++i) {
    const double v = (slow + fast) / 2;
    const double re = v * bore_m / viscosity_m2_s;
    double f = 64 / re;
    if (re > 2000) f = 0.032 + (0.3164 * std::pow(4000, -0.25) - 0.032) * (re - 2000) / 2000;
    if (re > 4000) f = 0.3164 * std::pow(re, -0.25);
    double spent_m = (1.5 + f * barrel.length_m / bore_m) * v * v / (2 * kGravity);
    if (barrel.pump_l_h > 0) {
      const double share = v * area_m2 * 3.6e6 / barrel.pump_l_h;
      spent_m += barrel.pump_m * share * share;
    }
    (spent_m < head_m ? slow : fast) = v;
  }
  return slow;
}

double night_by_small_steps_l(const Barrel& barrel, double viscosity_m2_s) {
  constexpr double kStep_s = 6;
  const double bore_m = barrel.bore_mm / 1000;
  const double tube_m2 = 3.14159265358979 * bore_m * bore_m / 4;
  const double surface_m2 = barrel.volume_l / 1000 / barrel.level_m;
  const double until_m = std::max({barrel.end_m, barrel.bottom_m, 0.0});
  double level_m = barrel.level_m;
  for (int i = 0; i < 12 * 600 && level_m > until_m; ++i) {
    const double v = bernoulli_m_s(barrel, level_m - barrel.end_m, viscosity_m2_s);
    level_m = std::max(until_m, level_m - v * tube_m2 * kStep_s / surface_m2);
  }
  return (barrel.level_m - level_m) * surface_m2 * 1000;
}

}  // namespace

TEST_CASE("a night's siphon is within 2 % of small steps of Bernoulli and Darcy",
          "[water][siphon]") {
  const double viscosity = water_viscosity_m2_s(15);
  const Barrel barrels[] = {
      {"a barrel gone in minutes", 60, 0.6, 0.0, 0, 2, 13, 1800, 4},
      {"a barrel gone within the hour", 220, 0.9, 0.04, 0, 3, 13, 0, 0},
      {"one that lasts some hours", 220, 0.9, 0.04, 0, 3, 9, 450, 3},
      {"a fast one down to the tank's outlet", 160, 0.85, -0.6, 0.05, 4, 16, 3000, 6},
      {"half a night", 500, 1.0, 0.3, 0, 12, 9, 600, 5},
      {"a thin tube, laminar", 200, 1.0, 0.2, 0, 15, 4, 240, 3},
      {"a thin tube, between the two", 1000, 1.5, -1, 0, 4, 6, 0, 0},
      {"hardly any fall", 100, 0.5, 0.48, 0, 3, 9, 300, 2},
      {"a large tank", 5000, 1.6, 0.2, 0.1, 60, 20, 660, 28},
      {"a hair", 200, 1, 0, 0, 20, 1, 100, 3},
  };
  for (const Barrel& barrel : barrels) {
    CAPTURE(barrel.name);
    const Tank tank{
        .volume_l = barrel.volume_l, .level_m = barrel.level_m, .outlet_height_m = barrel.bottom_m};
    WaterLine line{.name = "hose",
                   .lift_m = barrel.end_m - barrel.level_m,
                   .tube = Tube{.length_m = barrel.length_m, .bore_mm = barrel.bore_mm}};
    if (barrel.pump_l_h > 0) line.pump = WaterPump{barrel.pump_l_h, barrel.pump_m};
    const auto siphon = line_siphon(tank, line, viscosity);
    REQUIRE(siphon);
    CHECK_THAT(siphon->night_l, WithinRel(night_by_small_steps_l(barrel, viscosity), 0.02));
  }
}

TEST_CASE("a pump never passes more standing than running", "[water][siphon][property]") {
  // A small pump in a wide hose with much fall: the hose alone would pass four times as much.
  for (const double fall_m : {0.05, 0.5, 2.0, 20.0}) {
    for (const double bore_mm : {3.0, 6.0, 13.0, 50.0}) {
      WaterLine line{.name = "hose",
                     .pump = WaterPump{.flow_l_h = 450, .head_m = 1.5},
                     .tube = Tube{.length_m = 3, .bore_mm = bore_mm}};
      CAPTURE(fall_m, bore_mm);
      const double running = line_flow(line, -fall_m, Drive::pump, 1e-6).flow_l_h;
      const double standing = line_flow(line, -fall_m, Drive::gravity, 1e-6).flow_l_h;
      CHECK(standing < running);
      line.pump.reset();
      CHECK(standing < line_flow(line, -fall_m, Drive::gravity, 1e-6).flow_l_h);
    }
  }
}

TEST_CASE("outlets that want their flow at any head stop before the water is level with them",
          "[water][siphon]") {
  Site site = watered_site();
  WaterLine& line = line_of(site);
  line.valve = SiphonValve::none;
  line.pump.reset();
  // 40 L/h at any head, through 12 m of 4 mm: by hand what the tube takes at 40 L/h is the least
  // head that feeds the one outlet.
  line.outlets = Outlets{.count = 1, .flow_l_h = 4, .at_m = 1.5, .exponent = 0, .height_m = 0.5};
  line.tube = Tube{.length_m = 12, .bore_mm = 4};
  const double needed_m = tube_loss_m(*line.tube, 4, 1e-6);
  const auto siphon = line_siphon(*site.water->tank, line, 1e-6);
  REQUIRE(siphon);
  CHECK_THAT(siphon->until_m, WithinAbs(0.5 + needed_m, 0.001));
  // At one flow down to there: what 12 h of it take, or all there is.
  CHECK_THAT(siphon->night_l, WithinRel(std::min(48.0, 100 * (0.5 - needed_m)), 0.002));
}

TEST_CASE("an open end below the water siphons too", "[water][siphon]") {
  Site site = watered_site();
  WaterLine& line = line_of(site);
  line.outlets.reset();
  line.valve = SiphonValve::none;
  line.lift_m = -0.3;
  CHECK_THAT(line_siphon(*site.water->tank, line, 1e-6)->until_m, WithinAbs(0.7, 1e-12));
  line.lift_m = 0.3;
  CHECK_FALSE(line_siphon(*site.water->tank, line, 1e-6));
}

TEST_CASE("the water into a tank equals what leaves it and what is left",
          "[water][tank][property]") {
  Place place = testing::plain_site().place;
  place.rain_mm = {120, 100, 80, 60, 20, 5, 0, 5, 40, 90, 130, 140};
  const Tank tank{.volume_l = 300, .roof_m2 = 6, .runoff_share = 0.8};
  Monthly use{};
  use.fill(14);
  const TankStudy study = study_tank(place, tank, use);
  CHECK(study.dry_days > 0);
  CHECK(study.overflow_l > 0);
  // The second year ends about as the first did: what came in went out.
  CHECK_THAT(study.catch_l + study.refill_l - study.use_l - study.overflow_l, WithinAbs(0, 1e-6));
  CHECK_THAT(study.catch_l, WithinRel(790 * 6 * 0.8, 1e-12));
}

TEST_CASE("days to empty are counted from a full tank in the driest month", "[water][tank]") {
  Place place = testing::plain_site().place;
  Tank tank{.volume_l = 140, .level_m = 0.7, .outlet_height_m = 0.07};
  Monthly use{};
  use.fill(14);
  CHECK_THAT(*study_tank(place, tank, use).days_to_empty, WithinRel(9, 1e-12));
  CHECK(study_tank(place, tank, use).is_filled_by_hand);
  tank.roof_m2 = 1;
  tank.runoff_share = 1;
  place.rain_mm.fill(31 * 7);
  place.rain_mm[6] = 0;
  CHECK(study_tank(place, tank, use).days_to_empty_month == 6);
  place.rain_mm.fill(31 * 20);
  CHECK_FALSE(study_tank(place, tank, use).days_to_empty);
  CHECK(study_tank(place, tank, use).dry_days == 0);
}

TEST_CASE("a tank that nothing fills is judged by how long a filling lasts", "[water][tank]") {
  const Place place = testing::plain_site().place;
  const Tank tank{.volume_l = 140};
  Monthly use{};
  use.fill(14);
  use[6] = 28;
  use[0] = 0;
  TankStudy study = study_tank(place, tank, use);
  CHECK(study.is_filled_by_hand);
  CHECK(study.dry_days == 0);
  CHECK(study.holds());
  CHECK_FALSE(study.filling_days[0]);
  CHECK_THAT(*study.filling_days[1], WithinRel(10, 1e-12));
  CHECK_THAT(*study.filling_days[6], WithinRel(5, 1e-12));
  CHECK(study.days_to_empty_month == 6);
  CHECK_THAT(study.use_l, WithinRel(14.0 * (365 - 62) + 28 * 31, 1e-12));
  // A day is the least: to be filled more than once in a day is not enough.
  use[6] = 140;
  CHECK(study_tank(place, tank, use).holds());
  use[6] = 141;
  CHECK_FALSE(study_tank(place, tank, use).holds());
  // A roof without rain fills nothing either; one with some does, though too little.
  Tank roofed = tank;
  roofed.roof_m2 = 1;
  CHECK(study_tank(place, roofed, use).is_filled_by_hand);
  Place rainy = place;
  rainy.rain_mm[3] = 10;
  CHECK_FALSE(study_tank(rainy, roofed, use).is_filled_by_hand);
  CHECK(study_tank(rainy, roofed, use).dry_days > 300);
}

TEST_CASE("what siphons away at night is taken off the tank's year", "[water][tank][siphon]") {
  Site site = watered_site();
  WaterLine& line = line_of(site);
  site.water->tank->refill_l_month.assign(12, 31 * 20);
  const TankStudy kept = *study_water(site).tank;
  CHECK(kept.siphon_l == 0);
  CHECK(kept.dry_days == 0);
  CHECK(kept.lowest_l[5] > 80);
  line.valve = SiphonValve::none;
  const TankStudy lost = *study_water(site).tank;
  CHECK(lost.siphon_l > 0);
  // Every night down to the outlets at 0.5 m, or nearly.
  CHECK(lost.lowest_l[5] < 55);
  CHECK(lost.lowest_l[5] >= 50 * (1 - 1e-9));
  CHECK_THAT(lost.catch_l + lost.refill_l - lost.use_l - lost.siphon_l - lost.overflow_l,
             WithinAbs(0, 1));
  // The same books where it runs empty each night: what comes by day does not do.
  line.outlets->height_m = 0;
  site.water->tank->refill_l_month.assign(12, 31 * 10);
  const TankStudy empty = *study_water(site).tank;
  CHECK(empty.dry_days > 360);
  // Only in the months in which the line runs.
  site.loads[0].months = MonthSet(0b000111111000);  // April to September
  const TankStudy summer = *study_water(site).tank;
  CHECK(summer.dry_days_month[0] == 0);
  CHECK(summer.dry_days_month[6] == 31);
}

TEST_CASE("a filling lasts shorter where it siphons away", "[water][tank][siphon]") {
  Site site = watered_site();
  WaterLine& line = line_of(site);
  line.demand = DailyVolume{10};
  CHECK_THAT(*study_water(site).tank->filling_days[0], WithinRel(10, 1e-9));
  // The first night takes it from 90 to 50 L, where the outlets are; five days are left.
  line.valve = SiphonValve::none;
  line.tube = Tube{.length_m = 1, .bore_mm = 25};
  line.outlets->flow_l_h = 40;
  CHECK_THAT(*study_water(site).tank->filling_days[0], WithinRel(6, 1e-3));
  // Of lines without a pump somebody opens and closes the tap.
  line.pump.reset();
  line.lift_m = -0.3;
  site.loads.clear();
  CHECK_THAT(*study_water(site).tank->filling_days[0], WithinRel(10, 1e-9));
}

TEST_CASE("two lines siphon one tank down together", "[water][tank][siphon]") {
  // Outlets alone, q = k sqrt(h), no pump's passage worth the name: one pair stops at 0.5 m, the
  // other at 0.2. Ten litres a day are asked of 100; the nights by steps of ten seconds here.
  Site site = watered_site();
  site.loads.clear();
  const auto line_at = [](const char* name, double height_m) {
    return WaterLine{
        .name = name,
        .pump = WaterPump{.flow_l_h = 1e5, .head_m = 1e-3},
        .lift_m = -0.1,
        .outlets = Outlets{.count = 2, .flow_l_h = 1, .at_m = 1.5, .height_m = height_m},
        .demand = DailyVolume{5}};
  };
  site.water->lines = {line_at("high", 0.5), line_at("low", 0.2)};
  const double k_l_h = 2 / std::sqrt(1.5);
  double level_m = 1;
  double days = 0;
  for (; level_m > 0.1; ++days) {
    level_m -= 0.1;
    for (int step = 0; step < 12 * 360; ++step) {
      const double q_l_h = k_l_h * (std::sqrt(std::max(0.0, level_m - 0.5)) +
                                    std::sqrt(std::max(0.0, level_m - 0.2)));
      level_m -= q_l_h / 360 / 100;
    }
  }
  days += level_m / 0.1;
  CHECK(days < 8);
  CHECK_THAT(*study_water(site).tank->days_to_empty, WithinRel(days, 1e-3));
}

TEST_CASE("a line that nothing drives, or nothing holds back, is not enough", "[water]") {
  Site site = watered_site();
  REQUIRE(study_water(site).holds());
  site.loads.clear();
  WaterLine& line = line_of(site);
  line.pump.reset();
  WaterStudy study = study_water(site);
  CHECK_FALSE(study.holds());
  CHECK(study.lines[0].no_flow == NoFlow::nothing_drives_it);
  CHECK(has_topic(water_findings(site, study), "nothing drives it"));
  CHECK_FALSE(study.tank->days_to_empty);  // what does not run takes nothing
  // A drop drives it.
  line.lift_m = -0.2;
  CHECK(study_water(site).holds());
  CHECK(study_water(site).lines[0].flow);
  // Outlets alone or a tube alone set its flow; neither, and it is not told.
  line.lift_m = 0;
  line.pump = WaterPump{.flow_l_h = 240, .head_m = 3};
  line.tube.reset();
  CHECK(study_water(site).lines[0].flow);
  line.outlets.reset();
  study = study_water(site);
  CHECK_FALSE(study.holds());
  CHECK(study.lines[0].no_flow == NoFlow::nothing_sets_it);
  CHECK_FALSE(study.lines[0].minutes_day);
  CHECK(has_topic(water_findings(site, study), "flow not known"));
  CHECK(study.tank->days_to_empty);  // its demand is taken all the same
  line.tube = Tube{.length_m = 12, .bore_mm = 9};
  CHECK(study_water(site).holds());
}

TEST_CASE("frost is told in the months in which a line stands full", "[water][findings]") {
  Site site = watered_site();
  site.place.latitude_deg = -30;
  const auto frost = [&]() -> const Finding* {
    static std::vector<Finding> found;
    found = water_findings(site, study_water(site));
    const auto it = std::find_if(found.begin(), found.end(),
                                 [](const Finding& f) { return f.topic == "frost in the line"; });
    return it == found.end() ? nullptr : &*it;
  };
  CHECK_FALSE(frost());  // 25 deg C all year
  site.place.air_temp_c = {18, 18, 15, 11, 5, 1, 0, 2, 8, 11, 14, 16};
  REQUIRE(frost());
  CHECK(frost()->level == FindingLevel::warning);
  CAPTURE(frost()->text);
  CHECK(frost()->text.find(
            "April to September the air goes below 0 °C while there is water in beds") !=
        std::string::npos);
  // Not in use then: it can be drained.
  site.loads[0].months = MonthSet(0b111000000111);
  REQUIRE(frost());
  CHECK(frost()->level == FindingLevel::note);
  CHECK(frost()->text.find("before the first frost") != std::string::npos);
  site.loads[0].months = MonthSet(0b111000010111);  // May as well
  REQUIRE(frost());
  CHECK(frost()->level == FindingLevel::warning);
  CHECK(frost()->text.find("of May the air") != std::string::npos);
  site.water.reset();
  site.loads.clear();
  CHECK_FALSE(frost());
}

TEST_CASE("what is taken for a tube or outlets not given is said", "[water]") {
  Site site = watered_site();
  const auto says = [&](const std::string& words) {
    const auto said = study_water(site).assumptions;
    return std::any_of(said.begin(), said.end(), [&](const Assumption& assumption) {
      return assumption.text.find(words) != std::string::npos;
    });
  };
  CHECK_FALSE(says("no tube given"));
  CHECK_FALSE(says("no outlets given"));
  CHECK_FALSE(says("when it stands"));
  line_of(site).valve = SiphonValve::none;
  CHECK(says("beds: its pump is taken to let water through when it stands"));
  line_of(site).tube.reset();
  CHECK(says("beds: no tube given"));
  line_of(site).tube = Tube{.length_m = 12, .bore_mm = 9};
  line_of(site).outlets.reset();
  CHECK(says("beds: no outlets given, so its tube ends open."));
  site.assumptions.push_back({AssumptionKind::water, "Roof runoff not given: 80 %."});
  CHECK(says("Roof runoff not given"));
}

TEST_CASE("a valve is open when any load runs its line, as often as the strongest",
          "[water][load]") {
  Site site = watered_site();
  line_of(site).valve = SiphonValve::solenoid;
  // A level sensor stands first in the file, and runs in June alone.
  Load sensor = testing::always(0.01, "sensor");
  sensor.schedule = FromWater{"beds"};
  sensor.months = MonthSet(0b000000100000);
  site.loads[0].months = MonthSet(0b000111111000);  // April to September
  site.loads[0].every_days = 2;
  site.loads.insert(site.loads.begin(), sensor);
  const std::vector<Load> valves = valve_loads(site);
  REQUIRE(valves.size() == 1);
  CHECK(valves[0].months == MonthSet(0b000111111000));
  CHECK(valves[0].every_days == 2);
  // Each load counts in its own months only: pump and valve in April, the sensor beside in June.
  const LineStudy line = study_water(site).lines[0];
  const auto current_a = [&](std::size_t month) {
    return (*line.use_ah_day)[month] / (*line.minutes_day)[month] * 60;
  };
  CHECK_THAT(current_a(3), WithinRel(2 + 4.0 / 12, 1e-9));
  CHECK_THAT(current_a(5), WithinRel(2.01 + 4.0 / 12, 1e-9));
}

TEST_CASE("a valve's line that would run longer than a day is named by its demand",
          "[water][load][errors]") {
  // The valve is no load of the file: "loads[1]" would name one that is not there.
  Site site = watered_site();
  line_of(site).valve = SiphonValve::solenoid;
  line_of(site).demand = DailyVolume{5000};
  site.loads = {testing::always(0.1)};
  try {
    (void)prepare(site);
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK(error.field() == "water.lines[0].demand");
  }
}

TEST_CASE("a refill keeps a tank from running dry", "[water][tank]") {
  Place place = testing::plain_site().place;
  Tank tank{.volume_l = 140};
  Monthly use{};
  use.fill(10);
  tank.refill_l_month.assign(12, 310);
  CHECK(study_tank(place, tank, use).dry_days == 0);
  tank.refill_l_month.assign(12, 200);
  CHECK(study_tank(place, tank, use).dry_days > 0);
}

TEST_CASE("reference evapotranspiration follows the place", "[water]") {
  // Where the swing is taken from the sun, eq. 52 is 0.0023 / 0.16 (T + 17.8) Rs: the square root
  // undoes eq. 50, until the swing meets its bound.
  Place place = testing::plain_site().place;
  const Monthly et0 = reference_evapotranspiration_mm_day(place);
  CHECK_THAT(et0[0], WithinRel(0.0023 / 0.16 * (25 + 17.8) * 4 * 3.6 * 0.408, 1e-9));
  place.air_temp_c.fill(-30);
  CHECK(reference_evapotranspiration_mm_day(place)[0] == 0);
}

TEST_CASE("findings about water begin where they should", "[water][findings]") {
  Site site = watered_site();
  CHECK(has_topic(water_findings(site, study_water(site)), "tank filled by hand"));
  site.water->tank->refill_l_month.assign(12, 200);
  CHECK(has_topic(water_findings(site, study_water(site)), "tank runs dry"));
  CHECK_FALSE(has_topic(water_findings(site, study_water(site)), "lift and heights disagree"));
  site.water->tank->refill_l_month.clear();
  CHECK_FALSE(has_topic(water_findings(site, study_water(site)), "drinking water"));
  site.water->tank->refill_l_month.assign(12, 500);
  CHECK(has_topic(water_findings(site, study_water(site)), "drinking water"));
  CHECK_FALSE(has_topic(water_findings(site, study_water(site)), "tank runs dry"));
  CHECK(study_water(site).holds());
  line_of(site).lift_m = 2;
  CHECK(has_topic(water_findings(site, study_water(site)), "lift and heights disagree"));
  // Chosen: 5 cm of slack above the half metre by which the outlets are above an empty tank's
  // water.
  line_of(site).lift_m = 0.549;
  CHECK_FALSE(has_topic(water_findings(site, study_water(site)), "lift and heights disagree"));
  line_of(site).lift_m = 0.551;
  CHECK(has_topic(water_findings(site, study_water(site)), "lift and heights disagree"));
  line_of(site).demand = DailyVolume{5000};
  CHECK(has_topic(water_findings(site, study_water(site)), "day too short"));
  CHECK_FALSE(study_water(site).holds());
  CHECK(water_findings(testing::plain_site(), study_water(testing::plain_site())).empty());
}

TEST_CASE("a load whose minutes of water cannot be worked out is refused", "[water][errors]") {
  const auto message = [](const Site& site) -> std::string {
    try {
      (void)prepare(site);
    } catch (const Error& e) {
      return e.what();
    }
    return "accepted";
  };
  Site site = watered_site();
  line_of(site).demand = DailyVolume{5000};
  CHECK(message(site).starts_with("loads[0].from_water: line \"beds\" would have to run "));
  line_of(site).demand.reset();
  CHECK(message(site) ==
        "water.lines: line \"beds\" has no demand, which sets its minutes (give demand)");
  site = watered_site();
  line_of(site).pump.reset();
  CHECK(message(site) ==
        "water.lines: line \"beds\" has no pump, which sets its minutes (give pump)");
  site = watered_site();
  line_of(site).tube.reset();
  line_of(site).outlets.reset();
  CHECK(
      message(site) ==
      "water.lines: line \"beds\" has neither tube nor outlets, which set its minutes (give tube, "
      "its length and bore)");
  CHECK_THROWS_AS(line_minutes_day(site.place, line_of(site)), InputError);
  site = watered_site();
  line_of(site).lift_m = 5;
  CHECK(message(site).starts_with("water line \"beds\": the pump's 3 m of head cannot"));
  CHECK_THROWS_AS(study_water(site), ModelError);
  line_of(site).demand = CropDemand{.area_m2 = 1, .crop = "tomatoes"};
  CHECK_THROWS_AS(line_demand_l_day(site.place, line_of(site)), InputError);
}
