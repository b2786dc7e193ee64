#include "amptally/levers.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "amptally/study.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const WeatherChoice kChangeable{.mode = WeatherMode::synthetic, .years = 3};

/// Short in winter: some single changes mend it, others do not.
Site short_site() {
  Site site = testing::plain_site();
  site.place.latitude_deg = 43;
  site.place.sun_horizontal_kwh_m2_day = {1.6, 2.4, 3.6, 4.6, 5.3, 5.9, 6, 5.3, 4.3, 2.8, 1.8, 1.4};
  site.panel.power_w = 40;
  site.panel.tilt_deg = 15;
  site.panel.losses_share = 0.2;
  site.panel.shade.push_back(
      {.azimuth_from_deg = 140, .azimuth_to_deg = 180, .elevation_deg = 25, .blocks_share = 0.9});
  site.regulator.standby.value = 0.06;
  site.regulator.cutoff = {0.3, Threshold::Unit::state_of_charge};
  site.battery.capacity_ah = 26;
  site.loads = {
      {.name = "pump", .draw = {24, Draw::Unit::watts}, .schedule = Runs{{{390, 10}, {1080, 10}}}},
      {.name = "fan", .draw = {0.5, Draw::Unit::amperes}, .schedule = PerDay{90}},
      testing::always(0.02)};
  return site;
}

const Lever* find(const LeverStudy& study, const std::string& field) {
  const auto it = std::find_if(study.levers.begin(), study.levers.end(),
                               [&](const Lever& lever) { return lever.field == field; });
  return it == study.levers.end() ? nullptr : &*it;
}

/// The site with the lever at a value: by hand, not by the code under test.
Site set(Site site, const std::string& field, double value) {
  if (field == "panel.power") site.panel.power_w = value;
  if (field == "panel.tilt") site.panel.tilt_deg = value;
  if (field == "panel.losses") site.panel.losses_share = value;
  if (field == "panel.shade") {
    for (Obstacle& obstacle : site.panel.shade) obstacle.blocks_share *= value;
  }
  if (field == "battery.capacity") site.battery.capacity_ah = value;
  if (field == "regulator.standby") site.regulator.standby.value = value;
  if (field == "loads[0].draw") site.loads[0].draw.value = value;
  if (field == "loads[1].draw") site.loads[1].draw.value = value;
  if (field == "loads[2].draw") site.loads[2].draw.value = value;
  if (field == "loads[0].runs")
    site.loads[0].schedule = Runs{{{390, value / 2}, {1080, value / 2}}};
  if (field == "loads[1].per_day") site.loads[1].schedule = PerDay{value};
  return site;
}

/// The step before `value` on the way from `now`: a figure less of change.
double step_back(const Lever& lever) {
  const double to = std::get<double>(lever.to);
  const double now = std::get<double>(lever.now);
  const double towards_now = now > to ? 1 : -1;
  if (lever.unit == "%") return to + 0.01 * towards_now;
  if (lever.unit == "deg") return to + towards_now;
  if (to == 0) return now / 100;
  // Where the step crosses a power of ten downwards it is a tenth of the one above.
  double step = std::pow(10, std::floor(std::log10(to) + 1e-9) - 1);
  if (towards_now < 0 && to - step < 9.9 * step) step /= 10;
  return to + step * towards_now;
}

}  // namespace

TEST_CASE("what a lever needs meets the aim and one step less does not", "[levers]") {
  const Site site = short_site();
  const Study study(site, kChangeable);
  const LeverStudy levers = study_levers(site, kChangeable);
  CHECK_FALSE(levers.now.holds());
  int reached = 0;
  for (const Lever& lever : levers.levers) {
    if (!std::holds_alternative<double>(lever.to)) continue;
    CAPTURE(lever.field, std::get<double>(lever.to));
    const double to = std::get<double>(lever.to);
    CHECK(study.meets(set(site, lever.field, to)) == lever.reaches_aim);
    CHECK_THAT(lever.year.shortfall_wh,
               WithinAbs(study.run(set(site, lever.field, to)).year.shortfall_wh, 1e-6));
    if (!lever.reaches_aim) continue;
    ++reached;
    CAPTURE(step_back(lever));
    CHECK_FALSE(study.meets(set(site, lever.field, step_back(lever))));
  }
  CHECK(reached == 5);
}

TEST_CASE("every changeable quantity is tried, each once", "[levers]") {
  std::vector<std::string> fields;
  for (const Lever& lever : study_levers(short_site(), kChangeable).levers) {
    fields.push_back(lever.field);
  }
  std::sort(fields.begin(), fields.end());
  CHECK(fields == std::vector<std::string>{"battery.capacity", "loads[0].draw", "loads[0].runs",
                                           "loads[1].draw", "loads[1].per_day", "loads[2].draw",
                                           "panel.losses", "panel.power", "panel.shade",
                                           "panel.tilt", "regulator.kind", "regulator.standby"});
}

TEST_CASE("levers that reach the aim come first, the smallest change first", "[levers]") {
  const LeverStudy study = study_levers(short_site(), kChangeable);
  for (std::size_t i = 1; i < study.levers.size(); ++i) {
    const Lever& before = study.levers[i - 1];
    const Lever& after = study.levers[i];
    CAPTURE(before.field, after.field);
    CHECK(before.reaches_aim >= after.reaches_aim);
    if (before.reaches_aim && after.reaches_aim) CHECK(before.change_share <= after.change_share);
    CHECK(before.helps >= after.helps);
    if (!before.reaches_aim && before.helps == after.helps) {
      CHECK(before.year.shortfall_days + before.year.floor_days <=
            after.year.shortfall_days + after.year.floor_days);
    }
  }
}

TEST_CASE("a site that meets its aim has no levers", "[levers]") {
  Site site = testing::plain_site();
  site.loads.push_back(testing::always(0.05));
  const LeverStudy study = study_levers(site, kChangeable);
  CHECK(study.now.holds());
  CHECK(study.levers.empty());
}

TEST_CASE("levers leave out quantities that have no room to change", "[levers]") {
  Site site = testing::plain_site();  // flat, no standby, no shade
  site.panel.losses_share = 0.02;
  site.regulator.kind = RegulatorKind::mppt;
  site.panel.tilt_deg = 0;
  site.loads = {testing::always(5, "glutton"),
                {.name = "never", .draw = {1, Draw::Unit::amperes}, .schedule = PerDay{0}}};
  const LeverStudy study = study_levers(site, kChangeable);
  REQUIRE_FALSE(study.levers.empty());
  for (const char* field : {"panel.losses", "panel.shade", "regulator.standby", "regulator.kind",
                            "loads[0].per_day", "loads[1].per_day", "loads[1].draw"}) {
    CAPTURE(field);
    CHECK(find(study, field) == nullptr);
  }
  CHECK(find(study, "loads[0].draw") != nullptr);
}

TEST_CASE("too little autonomy is mended by a larger battery or less use, never by more sun",
          "[levers]") {
  Site site = testing::plain_site();
  site.panel.power_w = 500;
  site.panel.shade.push_back({.azimuth_from_deg = 90, .azimuth_to_deg = 120, .elevation_deg = 20});
  site.loads.push_back(testing::always(0.4));
  site.battery.peukert = 1;
  site.aim.autonomy_days = 4.9;
  // Usable 25 Ah over 9.6 Ah a day: 2.6 days; 4.9 days need 94.1 Ah, or 0.213 A.
  const LeverStudy study = study_levers(site, kChangeable);
  CHECK_FALSE(study.now.autonomy_met);
  CHECK(study.now.shortfall_met);
  REQUIRE(find(study, "battery.capacity")->reaches_aim);
  CHECK(std::get<double>(find(study, "battery.capacity")->to) == 95);
  REQUIRE(find(study, "loads[0].draw")->reaches_aim);
  CHECK(std::get<double>(find(study, "loads[0].draw")->to) == 0.21);
  for (const char* field : {"panel.power", "panel.shade", "panel.losses", "regulator.kind"}) {
    CAPTURE(field);
    CHECK_FALSE(find(study, field)->reaches_aim);
    CHECK_FALSE(find(study, field)->helps);
  }
}

TEST_CASE("levers come out the same for any number of threads", "[levers][property]") {
  const Site site = short_site();
  WeatherChoice weather = kChangeable;
  const LeverStudy one = study_levers(site, weather);
  weather.threads = 3;
  const LeverStudy three = study_levers(site, weather);
  REQUIRE(one.levers.size() == three.levers.size());
  for (std::size_t i = 0; i < one.levers.size(); ++i) {
    CHECK(one.levers[i].field == three.levers[i].field);
    CHECK(one.levers[i].to == three.levers[i].to);
    CHECK(one.levers[i].year.shortfall_wh == three.levers[i].year.shortfall_wh);
  }
}

TEST_CASE("the tilt a lever names is as near to now as any that meets the aim", "[levers]") {
  // Sun alone is short: the panel lies too flat for the winter.
  Site site = short_site();
  site.panel.power_w = 20;
  site.panel.shade.clear();
  site.aim.floor_share = 1;
  site.loads.resize(1);
  const Study study(site, kChangeable);
  const LeverStudy levers = study_levers(site, kChangeable);
  REQUIRE(find(levers, "panel.tilt") != nullptr);
  const Lever& tilt = *find(levers, "panel.tilt");
  int nearest = 1000;
  for (int to = 0; to <= 90; ++to) {
    const bool nearer = std::abs(to - 15) < std::abs(nearest - 15);
    if (nearer && study.meets(set(site, "panel.tilt", to))) nearest = to;
  }
  REQUIRE(nearest <= 90);  // there is one, so that this tests something
  CHECK(tilt.reaches_aim);
  CHECK(std::get<double>(tilt.to) == nearest);
}

TEST_CASE("levers go as far as the limits chosen for them", "[levers]") {
  // Chosen, study_levers: eight times the panel, ten times the battery, losses down to 3 %.
  Site site = testing::plain_site();
  site.panel.power_w = 10;
  site.battery.capacity_ah = 8;
  site.loads = {testing::always(20)};
  const LeverStudy levers = study_levers(site, {});
  const auto reach = [&](const std::string& field) {
    const Lever* lever = find(levers, field);
    REQUIRE(lever);
    CHECK_FALSE(lever->reaches_aim);
    return std::get<double>(lever->to);
  };
  CHECK(reach("panel.power") == 80);
  CHECK(reach("battery.capacity") == 80);
  CHECK(reach("panel.losses") == 0.03);
}
