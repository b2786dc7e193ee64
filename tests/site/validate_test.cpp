#include "amptally/validate.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <limits>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "amptally/error.hpp"
#include "amptally/findings.hpp"
#include "amptally/fit.hpp"
#include "amptally/levers.hpp"
#include "amptally/part_sets.hpp"
#include "amptally/rough.hpp"
#include "amptally/size.hpp"
#include "amptally/study.hpp"
#include "amptally/water.hpp"
#include "amptally/wiring.hpp"

#include "catch.hpp"
#include "random_site.hpp"
#include "site/fields.hpp"
#include "site/site_numbers.hpp"
#include "sites.hpp"
#include "struct_walk.hpp"

using namespace amptally;
using testing::Case;
using testing::full_case;

namespace {

std::string fields_of(const std::vector<SiteProblem>& problems) {
  std::string all;
  for (const SiteProblem& problem : problems) all += (all.empty() ? "" : " ") + problem.field;
  return all;
}

/// Everything that one change of a whole site makes wrong.
std::string wrong(const std::function<void(Case&)>& change) {
  Case c = full_case();
  change(c);
  const std::vector<SiteProblem> problems = validate(c.site, c.weather);
  if (!problems.empty()) CHECK_THROWS_AS(simulate(c.site, c.weather), InputError);
  return fields_of(problems);
}

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("a site with something of everything has nothing wrong", "[validate]") {
  const Case c = full_case();
  CHECK(validate(c.site, c.weather).empty());
  CHECK(testing::complaint(c).empty());
}

TEST_CASE("what no reader has looked at is refused, not simulated and no crash", "[validate]") {
  CHECK(wrong([](Case& c) { c.site.battery.floor_share = 50; }) == "battery.floor");
  CHECK(wrong([](Case& c) { c.site.battery.capacity_ah = kNan; }) == "battery.capacity");
  CHECK(wrong([](Case& c) { c.site.battery.capacity_ah = -7; }) == "battery.capacity");
  CHECK(wrong([](Case& c) { c.site.panel.tilt_deg = 400; }) == "panel.tilt");
  CHECK(wrong([](Case& c) { c.site.loads[1].every_days = 0; }) == "loads[1].every");
  CHECK(wrong([](Case& c) {
          c.weather.mode = WeatherMode::synthetic;
          c.weather.years = 0;
        }) == "weather.years");
  CHECK(wrong([](Case& c) { c.site.wiring[0].feeds = "nobody"; }) == "wiring[0].feeds");
  CHECK(wrong([](Case& c) {
          c.weather.mode = WeatherMode::file;
          c.weather.series.reset();
        }) == "weather.series");
}

TEST_CASE("what has to go together is looked at together", "[validate]") {
  CHECK(wrong([](Case& c) { c.site.panel.series = 2; }) == "panel.series");
  CHECK(wrong([](Case& c) { c.site.panel.shade[0].azimuth_to_deg = 361; }) ==
        "panel.shade[0].azimuth");
  CHECK(wrong([](Case& c) {
          c.site.panel.vmp_v = 18;
          c.site.panel.voc_v = 17;
        }) == "panel.vmp");
  CHECK(wrong([](Case& c) { c.site.regulator.kind = RegulatorKind::none; }) == "regulator.cutoff");
  CHECK(wrong([](Case& c) { std::swap(c.site.battery.cycles[0], c.site.battery.cycles[1]); }) ==
        "battery.cycles[1]");
  CHECK(wrong([](Case& c) {
          std::get<Runs>(c.site.loads[2].schedule).runs.push_back({0, 1420});
        }) == "loads[2].runs");
  CHECK(wrong([](Case& c) { c.site.loads[1].name = "mist"; }) == "loads[2].name wiring[0].feeds");
  CHECK(wrong([](Case& c) { c.site.loads[1].name = "battery"; }) ==
        "loads[1].name wiring[0].feeds");
  CHECK(wrong([](Case& c) { std::get<FromWater>(c.site.loads[3].schedule).line = "nobody"; }) ==
        "loads[3].from_water");
  CHECK(wrong([](Case& c) { c.site.water->lines[0].demand.reset(); }) == "water.lines");
  CHECK(wrong([](Case& c) { c.site.water->tank->refill_l_month.pop_back(); }) ==
        "water.tank.refill");
  CHECK(wrong([](Case& c) { c.site.water->tank->outlet_height_m = 1; }) ==
        "water.tank.outlet_height");
  CHECK(wrong([](Case& c) { c.site.rough[0].field = "loads[9].draw"; }) == "loads[9].draw");
  CHECK(wrong([](Case& c) { c.site.rough[0].high = 2000; }) == "loads[1].draw");
  CHECK(wrong([](Case& c) { c.weather.threads = 0; }) == "weather.threads");
  CHECK(wrong([](Case& c) { c.weather.mode = static_cast<WeatherMode>(3); }) == "weather.mode");
  CHECK(wrong([](Case& c) { c.site.battery.kind = static_cast<BatteryKind>(4); }) ==
        "battery.kind");
  CHECK(wrong([](Case& c) { c.site.place.air_temp_c[11] = kNan; }) == "place.temperature[11]");
}

TEST_CASE("a series has a finite value for each of its steps", "[validate]") {
  const auto with_series = [](const std::function<void(WeatherSeries&)>& change) {
    return wrong([&](Case& c) {
      c.weather.mode = WeatherMode::file;
      WeatherSeries series = *c.weather.series;
      change(series);
      c.weather.series = std::make_shared<const WeatherSeries>(std::move(series));
    });
  };
  CHECK(with_series([](WeatherSeries&) {}).empty());
  CHECK(with_series([](WeatherSeries& s) { s.global_wh_m2.pop_back(); }) ==
        "weather.series.global_wh_m2");
  CHECK(with_series([](WeatherSeries& s) { s.air_temp_c[7] = kNan; }) ==
        "weather.series.air_temp_c[7]");
  CHECK(with_series([](WeatherSeries& s) { s.lines.clear(); }) == "weather.series.lines");
  CHECK(with_series([](WeatherSeries& s) { s.years = 0; }) == "weather.series.years");
}

TEST_CASE("every problem is told at once, and the first with how many more", "[validate]") {
  Case c = full_case();
  c.site.panel.tilt_deg = 400;
  c.site.battery.floor_share = 50;
  c.site.loads[0].count = 0;
  CHECK(fields_of(validate(c.site)) == "panel.tilt battery.floor loads[0].count");
  CHECK_THROWS_WITH(require_valid(c.site),
                    "panel.tilt: 400 deg is not in 0..90 deg (and 2 more problems)");
  c.site.panel.tilt_deg = 40;
  c.site.loads[0].count = 1;
  CHECK_THROWS_WITH(require_valid(c.site), "battery.floor: 50 is not above 0 and up to 1");
}

TEST_CASE("every function that takes a site refuses a bad one", "[validate]") {
  const Case good = full_case();
  Site bad = good.site;
  bad.battery.floor_share = kNan;
  Place bad_place = good.site.place;
  bad_place.latitude_deg = 91;
  const WeatherChoice& weather = good.weather;
  const Simulation prepared = prepare(good.site);
  const PanelPlane plane = panel_plane(good.site);

  CHECK_THROWS_AS(prepare(bad), InputError);
  CHECK_THROWS_AS(simulate_prepared(bad, prepared, weather), InputError);
  CHECK_THROWS_AS(simulate_prepared(good.site, prepared, {.threads = 0}), InputError);
  CHECK_THROWS_AS(simulate(bad, weather), InputError);
  CHECK_THROWS_AS(load_profile(bad, prepared.sky.geometry), InputError);
  CHECK_THROWS_AS(Study(bad, weather), InputError);
  CHECK_THROWS_AS(Study(good.site, weather).run(bad), InputError);
  CHECK_THROWS_AS(Study(good.site, weather).meets(bad), InputError);
  CHECK_THROWS_AS(size_site(bad, weather), InputError);
  CHECK_THROWS_AS(fit_loads(bad, 1, weather), InputError);
  CHECK_THROWS_AS(fit_loads(good.site, 0, weather), InputError);
  CHECK_THROWS_AS(fit_loads(good.site, 5, weather), InputError);
  CHECK_THROWS_AS(study_levers(bad, weather), InputError);
  CHECK_THROWS_AS(study_rough(bad, weather), InputError);
  CHECK_THROWS_AS(study_rough(good.site, weather, {.cases = 0}), InputError);
  CHECK_THROWS_AS(study_water(bad), InputError);
  CHECK_THROWS_AS(check_wiring(bad, prepared), InputError);
  CHECK_THROWS_AS(site_findings(bad, prepared), InputError);
  CHECK_THROWS_AS(water_findings(bad, study_water(good.site)), InputError);
  CHECK_THROWS_AS(site_sky(bad_place, plane), InputError);
  CHECK_THROWS_AS(mean_days(bad_place), InputError);
  CHECK_THROWS_AS(year_geometry(bad_place, plane), InputError);
  CHECK_THROWS_AS(compare_tilts(bad_place, plane), InputError);
  CHECK_THROWS_AS(site_sky(good.site.place, {.tilt_deg = 400, .azimuth_deg = 0}), InputError);

  PartsList list;
  list.panels.push_back({.name = "p", .panel = good.site.panel});
  list.batteries.push_back({.name = "b", .battery = good.site.battery});
  list.regulators.push_back({.name = "r"});
  CHECK_NOTHROW(choose_parts(good.site, list, weather));
  CHECK_THROWS_AS(choose_parts(bad, list, weather), InputError);
  PartsList slip = list;
  slip.batteries[0].battery.capacity_ah = kNan;
  CHECK_THROWS_WITH(choose_parts(good.site, slip, weather),
                    Catch::Matchers::StartsWith("batteries[0]: battery.capacity: nan Ah"));
}

TEST_CASE("a site as large as sizing comes to can be simulated", "[validate]") {
  Case c = full_case();
  c.site.loads = {testing::always(1000)};
  c.site.loads[0].count = 10;
  c.site.wiring.clear();
  c.site.water.reset();
  c.site.rough.clear();
  const Sizing sizing = size_site(c.site, c.weather);
  REQUIRE(sizing.best.has_value());
  const Site bought = with_sizes(c.site, sizing.best->sizes);
  REQUIRE(bought.battery.capacity_ah * bought.battery.parallel > 100000);
  CHECK_NOTHROW(simulate(bought, c.weather));
}

// ---- The reader's table ------------------------------------------------------------------------

TEST_CASE("a site's limits are those of a file, or wider", "[validate]") {
  for (const Field& field : all_fields()) {
    CAPTURE(field.path);
    for (const Limits& site : field.site_limits) {
      const Limits* const file = limits_in(field, site.dimension);
      REQUIRE(file != nullptr);
      CHECK(site.low <= file->low);
      CHECK(site.high >= file->high);
      CHECK(site.above_low == file->above_low);
    }
  }
}

TEST_CASE("every number of a site is held to its limits", "[validate]") {
  const Case good = full_case();
  std::set<std::string> numbers;
  for_each_number(good.site, [&](const SiteNumber& number) { numbers.insert(number.path()); });
  REQUIRE(numbers.size() > 90);
  for (const std::string& path : numbers) {
    const FieldAt at = *field_at(path);
    for (const bool too_low : {true, false}) {
      Case c = good;
      const NumberAt number = at.field->number(c.site, at.indices);
      const Limits& limits = *site_limits_of(*at.field, number.said_in);
      const double outside = too_low ? limits.low - 1 : limits.high + 1 + 1e-3 * limits.high;
      if (number.real != nullptr) *number.real = outside;
      if (number.whole != nullptr) *number.whole = static_cast<int>(outside);
      CAPTURE(path, outside);
      CHECK_THAT(" " + fields_of(validate(c.site)) + " ",
                 Catch::Matchers::Contains(" " + path + " "));
    }
  }
}

TEST_CASE("a struct takes as many kinds as the reader knows words", "[validate]") {
  const auto set_kind = [](Site& site, std::string_view field, int kind) {
    if (field == "battery.kind") site.battery.kind = static_cast<BatteryKind>(kind);
    if (field == "regulator.kind") site.regulator.kind = static_cast<RegulatorKind>(kind);
    if (field == "loads[].when") {
      std::get<PerDay>(site.loads[1].schedule).when = static_cast<When>(kind);
    }
    if (field == "water.lines[].valve") {
      site.water->lines[0].valve = static_cast<SiphonValve>(kind);
    }
  };
  for (const char* field :
       {"battery.kind", "regulator.kind", "loads[].when", "water.lines[].valve"}) {
    CAPTURE(field);
    const int words = static_cast<int>(find_field(field)->choices.size());
    Site site = full_case().site;
    site.regulator.cutoff.reset();
    for (const auto& [kind, good] :
         {std::pair{-1, false}, {0, true}, {words - 1, true}, {words, false}}) {
      CAPTURE(kind);
      set_kind(site, field, kind);
      CHECK(validate(site).empty() == good);
    }
  }
}

TEST_CASE("what the reader takes, the library takes", "[validate]") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const testing::RandomSite made = testing::random_site_file(seed);
    CAPTURE(seed, made.text);
    CHECK(fields_of(validate(made.site)).empty());
  }
}

// ---- Sites of no sense
// ---------------------------------------------------------------------------

TEST_CASE("changed at random, a site is refused or gives finite figures", "[validate][property]") {
  int refused = 0;
  const std::uint64_t walks = testing::site_count(3000);
  for (std::uint64_t seed = 1; seed <= walks; ++seed) {
    testing::Dice dice(seed);
    std::vector<std::uint8_t> bytes(static_cast<std::size_t>(2 * (1 + dice.one_of(3))));
    for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(dice.one_of(256));
    const Case c = testing::changed_case(bytes);
    CAPTURE(seed);
    CHECK(testing::complaint(c) == "");
    refused += validate(c.site, c.weather).empty() ? 0 : 1;
  }
  CHECK(refused > 0);
  CHECK(refused < static_cast<int>(walks));
}
