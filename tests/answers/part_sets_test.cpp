#include "amptally/part_sets.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include "amptally/battery_type.hpp"
#include "amptally/error.hpp"

#include "catch.hpp"
#include "sitefile/parts_list_reader.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

WeatherChoice few_years(int threads = 1) {
  return {.mode = WeatherMode::synthetic, .years = 3, .threads = threads};
}

PartsList read(const std::string& text) {
  const io::PartsReadResult result = io::read_parts(text, "parts.json");
  for (const io::Problem& problem : result.problems) FAIL_CHECK(io::to_text(problem));
  REQUIRE(result.parts.has_value());
  return *result.parts;
}

PartsList example() {
  std::ifstream file(AMPTALLY_SOURCE_DIR "/examples/parts.json");
  std::ostringstream text;
  text << file.rdbuf();
  return read(text.str());
}

// A garden that the example's parts can serve.
Site garden() {
  Site site = testing::plain_site();
  site.place.latitude_deg = 43;
  site.place.utc_offset_h = 0;
  site.place.sun_horizontal_kwh_m2_day = {1.6, 2.4, 3.6, 4.4, 5.1, 5.5,
                                          5.5, 4.9, 4.0, 2.7, 1.8, 1.4};
  site.place.air_temp_c = {9, 9, 11, 12, 14, 17, 19, 20, 18, 15, 12, 10};
  site.panel.tilt_deg = 60;
  site.loads.push_back(testing::always(0.15));
  return site;
}

// One of each, plain, so that a test can break one limit.
PartsList plain_parts() {
  PartsList list;
  list.panels.push_back({"panel",
                         10,
                         {.power_w = 100,
                          .vmp_v = 18,
                          .imp_a = 100 / 18.0,
                          .voc_v = 22,
                          .isc_a = 6,
                          .tilt_deg = 0,
                          .azimuth_deg = 0}});
  list.batteries.push_back(
      {"battery", 10, {.kind = battery_kind("agm"), .capacity_ah = 60, .floor_share = 0.5}});
  list.regulators.push_back({"regulator", 10, {.kind = RegulatorKind::pwm}});
  return list;
}

// All that is said of sets that do not meet the aim.
std::string reasons(const PartsChoice& choice) {
  std::string all;
  for (const JudgedSet& set : choice.missed) all += set.why_not + "\n";
  return all;
}

}  // namespace

TEST_CASE("chosen sets meet the aim, are in order, and are the cheapest", "[parts][property]") {
  const Site site = garden();
  const PartsList list = example();
  const PartsChoice choice = choose_parts(site, list, few_years());
  REQUIRE(choice.best.size() >= 3);
  CHECK(choice.possible == 4 * 5 * 3 * 3 * 6 * 4);  // parts by wirings; 12.8 V serves as 12 V
  for (std::size_t i = 0; i < choice.best.size(); ++i) {
    const JudgedSet& judged = choice.best[i];
    CHECK(simulate(with_parts(site, list, judged.set), few_years()).balance.holds());
    CHECK(judged.outcome->met.holds());
    if (i > 0) CHECK(judged.set.cost >= choice.best[i - 1].set.cost);
  }
  for (const JudgedSet& judged : choice.missed) {
    CHECK(judged.set.cost <= choice.best.front().set.cost);
    CHECK_FALSE(judged.meets_aim());
  }
}

TEST_CASE("a battery for sale serves a bank whose voltage is within 8 % of its own", "[parts]") {
  // Common practice, no source: four lithium cells, 12.8 V, serve as 12 V; 12.96 V are 8 % more.
  PartsList list = plain_parts();
  list.batteries[0].battery.voltage_v = 12.95;
  CHECK(choose_parts(garden(), list, {}).possible > 0);
  list.batteries[0].battery.voltage_v = 12.97;
  CHECK_THROWS_AS(choose_parts(garden(), list, {}), InputError);
}

TEST_CASE("no set below the cheapest was overlooked", "[parts][property]") {
  // Against every set, run one by one, of a list small enough for that.
  const Site site = garden();
  PartsList list = plain_parts();
  list.panels[0].panel = {.power_w = 20, .vmp_v = 18, .tilt_deg = 0, .azimuth_deg = 0};
  list.batteries[0].battery.capacity_ah = 10;
  const PartsChoice choice = choose_parts(site, list, few_years());
  REQUIRE_FALSE(choice.best.empty());
  double cheapest = 1e9;
  for (int strings = 1; strings <= 6; ++strings) {
    for (int parallel = 1; parallel <= 4; ++parallel) {
      const PartsSet set{.panel_strings = strings, .battery_parallel = parallel};
      const double full_sun_a = strings * 20 / 18.0;
      const bool within_limit = full_sun_a < 0.95 * 0.3 * 10 * parallel;  // of agm, 0.3 A per Ah
      if (within_limit && simulate(with_parts(site, list, set), few_years()).balance.holds()) {
        cheapest = std::min(cheapest, 10.0 * (strings + parallel + 1));
      }
    }
  }
  CHECK(choice.best.front().set.cost == cheapest);
}

TEST_CASE("the sets chosen do not depend on the number of threads", "[parts]") {
  const PartsChoice one = choose_parts(garden(), example(), few_years(1));
  const PartsChoice two = choose_parts(garden(), example(), few_years(2));
  REQUIRE(one.best.size() == two.best.size());
  CHECK(one.evaluations == two.evaluations);
  CHECK(reasons(one) == reasons(two));
  for (std::size_t i = 0; i < one.best.size(); ++i) {
    CHECK(one.best[i].set.cost == two.best[i].set.cost);
    CHECK(one.best[i].outcome->year.served_share == two.best[i].outcome->year.served_share);
  }
}

TEST_CASE("a set that breaks an electrical limit is ruled out, however well it would do",
          "[parts]") {
  Site site = garden();
  PartsList list = plain_parts();
  REQUIRE_FALSE(choose_parts(site, list, few_years()).best.empty());
  SECTION("cold open-circuit voltage") {
    // 22 V at 25 deg C, NEC 690.7 at -10 deg C: 1.14 x 22 = 25.1 V.
    site.place.record_low_c = -10;
    list.regulators[0].regulator.max_panel_voltage_v = 25;
    const PartsChoice choice = choose_parts(site, list, few_years());
    CHECK(choice.best.empty());
    CHECK_THAT(reasons(choice), Contains("open-circuit, the regulator withstands 25 V"));
  }
  SECTION("short-circuit current") {
    // 1.25 x 6 A = 7.5 A: NEC 690.8(A).
    list.regulators[0].regulator.max_current_a = 7.4;
    const PartsChoice choice = choose_parts(site, list, few_years());
    CHECK(choice.best.empty());
    CHECK_THAT(reasons(choice), Contains("under bright clouds, the regulator takes 7.4"));
    list.regulators[0].regulator.max_current_a = 7.6;
    CHECK_FALSE(choose_parts(site, list, few_years()).best.empty());
  }
  SECTION("charge current") {
    list.batteries[0].battery.max_charge_current_a = 0.5;
    const PartsChoice choice = choose_parts(site, list, few_years());
    CHECK(choice.best.empty());
    CHECK_THAT(reasons(choice), Contains("the battery takes 0.5 A"));
  }
  SECTION("panels too low in voltage when hot") {
    list.panels[0].panel.vmp_v = 14;
    list.panels[0].panel.power_w = 14 * 100 / 18.0;
    const PartsChoice choice = choose_parts(site, list, few_years());
    for (const JudgedSet& judged : choice.best) CHECK(judged.set.panel_series > 1);
    CHECK_THAT(reasons(choice), Contains("hot panels have their power at"));
  }
  SECTION("panels too low in voltage for a converting regulator") {
    list.panels[0].panel.vmp_v = 12;
    list.panels[0].panel.power_w = 12 * 100 / 18.0;
    list.regulators[0].regulator.kind = RegulatorKind::mppt;
    const PartsChoice choice = choose_parts(site, list, few_years());
    for (const JudgedSet& judged : choice.best) CHECK(judged.set.panel_series > 1);
    CHECK_THAT(reasons(choice), Contains("of the charging battery"));
  }
}

TEST_CASE("batteries are put in series up to the bank's voltage", "[parts]") {
  Site site = garden();
  site.battery.series = 2;
  site.loads.back().draw.value = 0.05;
  PartsList list = plain_parts();
  list.panels[0].panel.vmp_v = 36;
  list.panels[0].panel.voc_v = 44;
  list.panels[0].panel.imp_a = list.panels[0].panel.isc_a = {};
  const PartsChoice choice = choose_parts(site, list, few_years());
  REQUIRE_FALSE(choice.best.empty());
  CHECK(choice.best.front().set.battery_series == 2);
  CHECK(with_parts(site, list, choice.best.front().set).battery.bank_voltage_v() == 24);
  list.batteries[0].battery.voltage_v = 16;
  CHECK_THROWS_AS(choose_parts(site, list, few_years()), InputError);
}

TEST_CASE("a set says by how much it misses the aim", "[parts]") {
  PartsList list = plain_parts();
  list.panels[0].panel = {.power_w = 0.5, .tilt_deg = 0, .azimuth_deg = 0};
  const PartsChoice choice = choose_parts(garden(), list, few_years());
  CHECK(choice.best.empty());
  CHECK_THAT(reasons(choice), Contains("short on ") && Contains(" days a year"));
  CHECK(choice.missed.size() <= kSetsShown);
  // The nearest first: the most of this panel, of all sets.
  CHECK(choice.missed.front().set.panels() == 18);
  for (std::size_t i = 1; i < choice.missed.size(); ++i) {
    CHECK(choice.missed[i - 1].outcome->year.shortfall_days <=
          choice.missed[i].outcome->year.shortfall_days);
  }
}

TEST_CASE("a parts list is read with its label's defaults, and says them", "[parts][io]") {
  const PartsList list = read(R"({
    "format": "amptally-parts/1",
    "panels": [{ "name": "p", "price": 12.5, "vmp": "18 V", "imp": "2 A" }],
    "batteries": [{ "name": "b", "price": 30, "kind": "gel", "capacity": "9 Ah" }],
    "regulators": [{ "name": "r", "price": 9, "notes": "second hand" }]
  })");
  CHECK(list.panels[0].price == 12.5);
  CHECK_THAT(list.panels[0].panel.power_w, WithinRel(36.0, 1e-12));
  CHECK(list.batteries[0].battery.kind == battery_kind("gel"));
  CHECK(list.batteries[0].battery.voltage_v == 12);
  CHECK_THAT(list.regulators[0].regulator.standby.value, WithinRel(0.010, 1e-12));
  REQUIRE(list.assumptions.size() == 4);
  CHECK_THAT(list.assumptions[0].text, Contains("p: Panel power not given"));
  CHECK_THAT(list.assumptions[1].text, Contains("b: Battery voltage not given"));
}

TEST_CASE("mistakes in a parts list are told all at once, each with its place", "[parts][errors]") {
  const io::PartsReadResult result = io::read_parts(R"({
    "format": "amptally-parts/2",
    "panels": [{ "name": "p", "price": -1, "power": "50 Ah" },
               { "name": "p", "price": 5, "power": "40..50 W", "tilt": 30 }],
    "batteries": [{ "name": "b", "kind": "amg", "capacity": "9 Ah", "price": 1 }],
    "regulators": []
  })",
                                                    "parts.json");
  CHECK_FALSE(result.parts.has_value());
  std::string all;
  for (const io::Problem& problem : result.problems) all += io::to_text(problem) + "\n";
  CHECK_THAT(all, Contains("parts.json:2:15: format: \"amptally-parts/2\" is not"));
  CHECK_THAT(all, Contains("parts.json:3:40: panels[0].price: -1 is not in 0..1e+09"));
  CHECK_THAT(all, Contains("panels[0].power: \"50 Ah\""));
  CHECK_THAT(all, Contains("panels[1].name: \"p\" is the name of an earlier one"));
  CHECK_THAT(all,
             Contains("panels[1].power: \"40..50 W\" is a range; this field takes one figure"));
  CHECK_THAT(all, Contains("panels[1].tilt: unknown field (allowed here: name, price, power"));
  CHECK_THAT(all,
             Contains("batteries[0].kind: \"amg\" is not") && Contains("did you mean \"agm\"?"));
  CHECK_THAT(all, Contains("regulators: is empty"));
  CHECK(result.problems.size() == 8);
  const auto by_line = [](const io::Problem& x, const io::Problem& y) { return x.line < y.line; };
  CHECK(std::is_sorted(result.problems.begin(), result.problems.end(), by_line));
}

TEST_CASE("a file that is no parts list is refused in one line", "[parts][errors]") {
  CHECK_THAT(io::to_text(io::read_parts("[]", "p").problems.at(0)),
             Contains("p:1:1: a parts list is an object {...}, not a list"));
  CHECK(io::read_parts("{", "p").problems.size() == 1);
  CHECK(io::read_parts("{}", "p").problems.size() == 4);
}
