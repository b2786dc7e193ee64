#include "sitefile/site_reader.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "amptally/battery_type.hpp"
#include "amptally/error.hpp"

#include "catch.hpp"
#include "site/battery_words.hpp"
#include "site/fields.hpp"
#include "text/message_text.hpp"

using namespace amptally;
using namespace amptally::io;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const std::string kRoot = AMPTALLY_SOURCE_DIR;

std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string problems_text(const ReadResult& result) {
  std::string out;
  for (const Problem& problem : result.problems) out += to_text(problem) + "\n";
  return out;
}

Site read_good(std::string_view text, const std::vector<Setting>& settings = {}) {
  const ReadResult result = read_site(text, "site.json", settings);
  INFO(problems_text(result));
  REQUIRE(result.site.has_value());
  REQUIRE(result.problems.empty());
  return *result.site;
}

constexpr std::string_view kSmall = R"({
  "format": "amptally-site/1",
  "place": { "latitude": 43.4, "longitude": -5.9 },
  "panel": { "power": "20 W" },
  "battery": { "kind": "agm", "capacity": "12 Ah" },
  "loads": [
    { "name": "pump", "draw": "600 mA", "per_day": "20 min" },
    { "name": "timer", "draw": "5 mA", "always": true }
  ]
})";

std::string problems_of(const std::vector<Setting>& settings) {
  return problems_text(read_site(kSmall, "site.json", settings));
}

bool says(const Site& site, std::string_view words) {
  return std::any_of(site.assumptions.begin(), site.assumptions.end(),
                     [&](const Assumption& a) { return a.text.find(words) != std::string::npos; });
}

/// `expected` with the names of the battery types, which are data, in the place kept for them.
std::string with_battery_kinds(std::string expected) {
  constexpr std::string_view kPlace = "{battery kinds}";
  std::vector<std::string> quoted;
  for (const std::string_view name : battery_names()) quoted.push_back(in_quotes(name));
  const std::vector<std::string_view> names(quoted.begin(), quoted.end());
  const std::size_t at = expected.find(kPlace);
  return at == expected.npos ? expected : expected.replace(at, kPlace.size(), any_of(names));
}

}  // namespace

TEST_CASE("a bare number whose unit is easily another is told", "[site_reader]") {
  const ReadResult read = read_site(
      R"({ "format": "amptally-site/1", "place": { "name": "Hobart" },
           "panel": { "power": 60, "tilt": 40 }, "regulator": { "standby": 0.01 },
           "battery": { "kind": "agm", "capacity": 100 },
           "loads": [ { "name": "lamp", "draw": 20, "count": 2, "per_day": 60, "idle": 0 } ] })",
      "site.json", {});
  REQUIRE(read.site);
  std::vector<std::string> told;
  for (const Assumption& assumption : read.site->assumptions) {
    if (assumption.kind == AssumptionKind::unit) told.push_back(assumption.text);
  }
  CHECK(told ==
        std::vector<std::string>{
            "regulator.standby: 0.01 without a unit was taken as 0.01 A; write \"0.01 mA\" "
            "or \"0.01 W\" if that was meant.",
            "battery.capacity: 100 without a unit was taken as 100 Ah; write \"100 mAh\" if "
            "that was meant.",
            "loads[0].draw: 20 without a unit was taken as 20 A; write \"20 mA\" or \"20 W\" "
            "if that was meant."});
}

TEST_CASE("each wrong file is answered word for word", "[site][errors]") {
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kRoot + "/tests/bad")) {
    if (entry.path().extension() != ".json") continue;
    ++files;
    std::filesystem::path expected = entry.path();
    expected.replace_extension(".expected");
    const ReadResult result =
        read_site(file_text(entry.path()), entry.path().filename().string(), {});
    CAPTURE(entry.path().filename().string());
    CHECK_FALSE(result.site.has_value());
    CHECK_FALSE(result.problems.empty());
    CHECK(problems_text(result) == with_battery_kinds(file_text(expected)));
  }
  CHECK(files >= 60);
}

TEST_CASE("the shipped examples read without a problem", "[site]") {
  for (const std::string name : {"terrace", "goat-trough", "cold-frame"}) {
    CAPTURE(name);
    (void)read_good(file_text(kRoot + "/examples/" + name + ".json"));
  }
}

TEST_CASE("a file with every field lands in the right places: root and place", "[site]") {
  const Site site = read_good(file_text(kRoot + "/tests/data/every_field.json"));
  CHECK(site.name == "Every field");
  const Place& place = site.place;
  CHECK(place.name == "Our hill");
  CHECK(place.latitude_deg == 43.5);
  CHECK(place.longitude_deg == -5.5);
  CHECK_THAT(place.sun_horizontal_kwh_m2_day[0], WithinRel(1.0, 1e-15));   // 3.6 MJ
  CHECK_THAT(place.sun_horizontal_kwh_m2_day[1], WithinRel(2.0, 1e-15));   // 7.2 MJ
  CHECK_THAT(place.sun_horizontal_kwh_m2_day[11], WithinRel(1.8, 1e-15));  // 75 W x 24 h
  CHECK(place.air_temp_c[6] == 18);
  CHECK_THAT(place.air_temp_c[7], WithinAbs(18, 1e-12));
  CHECK(place.rain_mm[11] == 110);
  CHECK(place.elevation_m == 250);
  CHECK(place.utc_offset_h == 1);
  CHECK(place.albedo == 0.25);
  CHECK(place.record_low_c == -8);
  CHECK(place.climate.own_sun);
  CHECK(place.climate.own_temperature);
  CHECK(place.climate.own_rain);
  CHECK(place.climate.sun == "the site file");
  CHECK(place.climate.uncertainty_share == 0);
  // Nothing but the units of its bare numbers.
  CHECK(std::all_of(site.assumptions.begin(), site.assumptions.end(),
                    [](const Assumption& a) { return a.kind == AssumptionKind::unit; }));
  CHECK(site.aim.autonomy_days == 4);
  CHECK(site.aim.shortfall_days == 2);
  CHECK(site.aim.floor_share == 0.6);
}

TEST_CASE("a file with every field lands in the right places: panel", "[site]") {
  const Panel panel = read_good(file_text(kRoot + "/tests/data/every_field.json")).panel;
  CHECK(panel.power_w == 60);
  CHECK(panel.count == 4);
  CHECK(panel.series == 2);
  CHECK(panel.vmp_v == 18);
  CHECK(panel.imp_a == 3.3);
  CHECK(panel.voc_v == 22);
  CHECK(panel.isc_a == 3.6);
  CHECK(panel.temp_coeff_power_pct_k == -0.4);
  CHECK(panel.temp_coeff_voc_pct_k == -0.3);
  CHECK(panel.noct_c == 46);
  CHECK(panel.tilt_deg == 55);
  CHECK(panel.azimuth_deg == 170);
  CHECK(panel.losses_share == 0.12);
  REQUIRE(panel.shade.size() == 1);
  CHECK(panel.shade[0].azimuth_from_deg == 330);
  CHECK(panel.shade[0].azimuth_to_deg == 20);
  CHECK(panel.shade[0].elevation_deg == 25);
  CHECK(panel.shade[0].months == MonthSet("111000001111"));  // October to April; January is last
  CHECK(panel.shade[0].blocks_share == 0.8);
}

TEST_CASE("a file with every field lands in the right places: regulator and battery", "[site]") {
  const Site site = read_good(file_text(kRoot + "/tests/data/every_field.json"));
  const Regulator& regulator = site.regulator;
  CHECK(regulator.kind == RegulatorKind::mppt);
  CHECK(regulator.standby.value == 0.3);
  CHECK(regulator.standby.unit == Draw::Unit::watts);
  CHECK(regulator.efficiency_share == 0.96);
  CHECK(regulator.max_current_a == 10);
  CHECK(regulator.max_panel_voltage_v == 75);
  CHECK(regulator.cutoff->value == 0.2);
  CHECK(regulator.cutoff->unit == Threshold::Unit::state_of_charge);
  CHECK(regulator.reconnect->value == 12.6);
  CHECK(regulator.reconnect->unit == Threshold::Unit::volts);
  CHECK(regulator.absorption_v == 14.4);
  const Battery& battery = site.battery;
  CHECK(battery.kind == battery_kind("gel"));
  CHECK(battery.voltage_v == 6);
  CHECK(battery.capacity_ah == 12);
  CHECK(battery.rated_hours == 10);
  CHECK(battery.parallel == 3);
  CHECK(battery.series == 2);
  CHECK(battery.floor_share == 0.4);
  CHECK(battery.health_share == 0.9);
  CHECK(battery.start_share == 0.8);
  CHECK(battery.max_charge_current_a == 5);
  CHECK(battery.peukert == 1.15);
  CHECK(battery.self_discharge_pct_month == 3);
  REQUIRE(battery.cycles.size() == 3);
  CHECK(battery.cycles[0].depth_share == 0.3);
  CHECK(battery.cycles[1].depth_share == 0.5);
  CHECK(battery.cycles[2].depth_share == 1);
  CHECK(battery.cycles[2].cycles == 200);
  CHECK(battery.shelf_life_years == 5);
  CHECK(battery.price == 45);
}

TEST_CASE("a file with every field lands in the right places: loads and wiring", "[site]") {
  const Site site = read_good(file_text(kRoot + "/tests/data/every_field.json"));
  REQUIRE(site.loads.size() == 4);
  const Load& pump = site.loads[0];
  CHECK(pump.name == "pump");
  CHECK_THAT(pump.draw.value, WithinRel(0.35, 1e-15));
  CHECK(pump.count == 2);
  const auto& runs = std::get<Runs>(pump.schedule).runs;
  REQUIRE(runs.size() == 2);
  CHECK(runs[0].at_min == 390);
  CHECK(runs[0].for_minutes == 10);
  CHECK(runs[1].at_min == 1430);
  CHECK(runs[1].for_minutes == 20);
  CHECK(pump.months == MonthSet("000001100000"));  // June, July
  CHECK(pump.every_days == 2);
  CHECK(pump.start_factor == 4);
  CHECK(pump.idle->value == 0.001);
  CHECK(std::get<PerDay>(site.loads[1].schedule).minutes == 90);
  CHECK(std::get<PerDay>(site.loads[1].schedule).when == When::night);
  CHECK(site.loads[1].draw.unit == Draw::Unit::watts);
  CHECK(site.loads[1].every_days == 3);
  CHECK(std::holds_alternative<AlwaysOn>(site.loads[2].schedule));
  CHECK(std::get<FromWater>(site.loads[3].schedule).line == "bench");
  REQUIRE(site.wiring.size() == 3);
  CHECK(site.wiring[0].name == "long one");
  CHECK_THAT(site.wiring[0].length_m, WithinRel(9.144, 1e-15));
  CHECK_THAT(*site.wiring[0].section_mm2, WithinAbs(0.823, 0.0005));
  CHECK(site.wiring[0].max_drop_share == 0.02);
  CHECK(site.wiring[1].name == "panel");
  CHECK_FALSE(site.wiring[2].section_mm2.has_value());
}

TEST_CASE("a file with every field lands in the right places: water", "[site]") {
  const Site site = read_good(file_text(kRoot + "/tests/data/every_field.json"));
  REQUIRE(site.water.has_value());
  const Tank& tank = *site.water->tank;
  CHECK(tank.volume_l == 1000);
  CHECK(tank.level_m == 0.9);
  CHECK(tank.outlet_height_m == 0.05);
  CHECK(tank.roof_m2 == 8);
  CHECK(tank.runoff_share == 0.75);
  CHECK(tank.refill_l_month == std::vector<double>{0, 0, 0, 0, 0, 100, 200, 200, 0, 0, 0, 0});
  REQUIRE(site.water->lines.size() == 4);
  const WaterLine& line = site.water->lines[0];
  CHECK(line.pump->flow_l_h == 240);
  CHECK_THAT(line.pump->head_m, WithinAbs(5.0986, 0.00005));  // half of 10.1972 m
  CHECK(line.lift_m == 1.5);
  CHECK(line.tube->length_m == 12);
  CHECK(line.tube->bore_mm == 8);
  CHECK(line.outlets->count == 20);
  CHECK(line.outlets->flow_l_h == 2);
  CHECK_THAT(line.outlets->at_m, WithinAbs(10.1972, 0.00005));
  CHECK(line.outlets->exponent == 0.6);
  CHECK(line.outlets->height_m == -0.2);
  CHECK(std::get<PlantDemand>(*line.demand).plants == 12);
  CHECK(std::get<PlantDemand>(*line.demand).each_l == 0.5);
  CHECK(line.valve == SiphonValve::air_break);
  CHECK(std::get<CropDemand>(*site.water->lines[1].demand).crop == "tomato");
  CHECK(site.water->lines[1].valve == SiphonValve::solenoid);
  CHECK(std::get<DailyVolume>(*site.water->lines[2].demand).litres == 30);
  CHECK_THAT(std::get<DailyVolume>(*site.water->lines[3].demand).litres, WithinRel(30.0, 1e-14));
}

TEST_CASE("rough values are kept by path, in the base unit", "[site]") {
  const Site site = read_good(file_text(kRoot + "/tests/data/every_field.json"));
  REQUIRE(site.rough.size() == 2);
  const RoughInput& demand = site.rough[0];
  CHECK(demand.field == "water.lines[3].demand");
  CHECK_THAT(demand.low, WithinRel(20.0, 1e-14));
  CHECK_THAT(demand.high, WithinRel(40.0, 1e-14));
  CHECK(demand.unit == "L");
  const RoughInput& draw = site.rough[1];
  CHECK(draw.field == "loads[0].draw");
  CHECK(draw.low == 0.3);
  CHECK(draw.high == 0.4);
  CHECK(draw.unit == "A");
}

TEST_CASE("what the reader assumes is said", "[site]") {
  const Site site = read_good(kSmall);
  CHECK(site.panel.tilt_deg == 43);
  CHECK(says(site, "43 deg"));
  CHECK(site.panel.azimuth_deg == 180);
  CHECK(says(site, "south, 180°"));
  CHECK(site.place.utc_offset_h == 1);  // Spain's, where the longitude would have 0
  CHECK(says(site, "UTC +1 h, standard time in summer too, as in the nearest town known (Europe/"));
  CHECK(site.regulator.kind == RegulatorKind::pwm);
  CHECK(site.regulator.standby.value == 0.01);
  CHECK(says(site, "10 mA"));
  CHECK(site.battery.voltage_v == 12);
  CHECK(says(site, "12 V"));
  CHECK(site.battery.floor_share == 0.5);
  CHECK(says(site, "50 %"));
  CHECK(says(site, "shipped table"));
  CHECK_FALSE(site.place.climate.own_sun);
  CHECK_THAT(site.place.climate.uncertainty_share,
             WithinAbs(0.1022, 0.00005));  // between four cells
  CHECK(site.place.climate.distance_km > 100);
}

TEST_CASE("a field left out has the default that the table of fields prints", "[site]") {
  // Common practice, no source, but for the counts; docs/site-file.md is made of the same table.
  const Site site =
      read_good(kSmall, {{"wiring", R"([{"name": "cable", "feeds": "pump", "length": "3 m"}])"},
                         {"water", R"({"lines": [{"name": "drip", "outlets":
                   {"count": 4, "flow": "2 L/h", "at": "10 m"}}]})"}});
  const auto prints = [](std::string_view path) {
    const auto all = all_fields();
    const auto field = std::find_if(all.begin(), all.end(),
                                    [&](const Field& other) { return other.path == path; });
    REQUIRE(field != all.end());
    return std::string(field->fallback);
  };
  CHECK(prints("place.albedo") == "20 %");
  CHECK(site.place.albedo == 0.20);
  CHECK(prints("panel.noct") == "45 deg C");
  CHECK(site.panel.noct_c == 45);
  CHECK(prints("panel.losses") == "10 %");
  CHECK(site.panel.losses_share == 0.10);
  CHECK(prints("regulator.efficiency") == "95 %");
  CHECK(site.regulator.efficiency_share == 0.95);
  CHECK(prints("battery.rated_hours") == "20 h");
  CHECK(site.battery.rated_hours == 20);
  CHECK(prints("wiring[].max_drop") == "3 %");
  CHECK(site.wiring[0].max_drop_share == 0.03);
  CHECK(prints("water.lines[].outlets.exponent") == "0.5");
  CHECK(site.water->lines[0].outlets->exponent == 0.5);
  CHECK(prints("aim.autonomy") == "3 days");
  CHECK(site.aim.autonomy_days == 3);
}

TEST_CASE("defaults follow the site: south, lithium, no regulator", "[site]") {
  const Site south = read_good(kSmall, {{"place.latitude", "-4"}, {"place.longitude", "36"}});
  CHECK(south.panel.tilt_deg == 10);  // flatter would hold dirt
  CHECK(south.panel.azimuth_deg == 0);
  CHECK(south.place.utc_offset_h == 3);  // Kenya and Tanzania
  const Site lithium = read_good(kSmall, {{"battery.kind", "lifepo4"}});
  CHECK(lithium.battery.floor_share == 0.8);
  const Site direct = read_good(kSmall, {{"regulator.kind", "none"}});
  CHECK(direct.regulator.standby.value == 0);
  CHECK_FALSE(says(direct, "standby"));
  const Site label = read_good(kSmall, {{"panel", R"({"vmp": "18 V", "imp": "2 A"})"}});
  CHECK(label.panel.power_w == 36);
  CHECK(says(label, "36 W"));
}

TEST_CASE("a shipped place gives position and climate; the file's own figures win", "[site]") {
  const Site site =
      read_good(kSmall, {{"place", R"({"name": "hobart", "rain": [1,2,3,4,5,6,7,8,9,10,11,12]})"}});
  CHECK(site.name == "Hobart");
  CHECK_THAT(site.place.latitude_deg, WithinAbs(-42.88, 0.005));  // data/places.csv
  CHECK(site.place.climate.sun == "the shipped table for Hobart");
  CHECK(site.place.climate.distance_km == 0);
  CHECK(site.place.climate.own_rain);
  CHECK_FALSE(site.place.climate.own_temperature);
  CHECK(site.place.rain_mm[11] == 12);
  CHECK(site.place.sun_horizontal_kwh_m2_day[0] > site.place.sun_horizontal_kwh_m2_day[5]);
}

TEST_CASE("a place named far from its coordinates is said to be only a label", "[site]") {
  const Site site = read_good(kSmall, {{"place.name", "Hobart"}});
  CHECK(site.place.latitude_deg == 43.4);
  CHECK(says(site, "only a label"));
}

TEST_CASE("empty loads and a panel of no power make a site", "[site]") {
  const Site site = read_good(kSmall, {{"loads", "[]"}, {"panel.power", "0"}});
  CHECK(site.loads.empty());
  CHECK(site.panel.power_w == 0);
}

TEST_CASE("PATH=VALUE is split at the first = outside brackets", "[set]") {
  const Setting setting = split_setting("loads[a=b].name=x=y");
  CHECK(setting.path == "loads[a=b].name");
  CHECK(setting.value == "x=y");
  CHECK(split_setting("battery.capacity=").value.empty());
  CHECK_THROWS_AS(split_setting("battery.capacity"), InputError);
  CHECK_THROWS_AS(split_setting("=12 Ah"), InputError);
  CHECK_THROWS_WITH(split_setting("name=\xE9"), Contains("is not UTF-8 text"));
}

TEST_CASE("settings reach fields by path, name and number", "[set]") {
  const Site site =
      read_good(kSmall, {{"battery.capacity", "18 Ah"},
                         {"loads[pump].draw", "400mA"},
                         {"loads[1].count", "2"},
                         {"panel.shade[0]", R"({"azimuth": "90..120", "elevation": 20})"},
                         {"panel.shade[0].elevation", "25 deg"},
                         {"water.lines[0].name", "bed"},
                         {"water.lines[0].pump.flow", "4 L/min"},
                         {"water.lines[bed].pump.head", "3 m"},
                         {"place.insolation", "[1,2,3,4,5,6,6,5,4,3,2,1]"},
                         {"place.insolation[11]", "0.9"},
                         {"battery.capacity", "20"}});
  CHECK(site.battery.capacity_ah == 20);  // the later one wins
  CHECK(site.loads[0].draw.value == 0.4);
  CHECK(site.loads[1].count == 2);
  REQUIRE(site.panel.shade.size() == 1);
  CHECK(site.panel.shade[0].elevation_deg == 25);
  CHECK(site.water->lines[0].pump->flow_l_h == 240);
  CHECK(site.place.sun_horizontal_kwh_m2_day[11] == 0.9);
}

TEST_CASE("one past the end adds an element, and a new schedule replaces the old", "[set]") {
  const Site site =
      read_good(kSmall, {{"loads[2]", R"({"name": "fan", "draw": "2 W", "per_day": 60})"},
                         {"loads[fan].when", "day"},
                         {"loads[pump].runs", R"([{"at": "06:30", "for": 5}])"},
                         {"loads[fan].always", "true"}});
  REQUIRE(site.loads.size() == 3);
  CHECK(std::holds_alternative<Runs>(site.loads[0].schedule));
  CHECK(std::holds_alternative<AlwaysOn>(site.loads[2].schedule));
}

TEST_CASE("a wrong setting is named as it was given", "[set][errors]") {
  CHECK(problems_of({{"battery.capacity", "7 Ahh"}}) ==
        "--set battery.capacity=7 Ahh: battery.capacity: \"7 Ahh\": unknown unit \"Ahh\" (did you "
        "mean Ah?)\n");
  CHECK(problems_of({{"battery.capcity", "7 Ah"}}) ==
        "--set battery.capcity=7 Ah: battery.capcity: the site file has no such field (did you "
        "mean battery.capacity?)\n");
  CHECK(problems_of({{"loads[pmp].draw", "1 A"}}) ==
        "--set loads[pmp].draw=1 A: loads[pmp].draw: nothing in the list is called \"pmp\" (did "
        "you mean pump?)\n");
  CHECK(problems_of({{"loads[fan].draw", "1 A"}}) ==
        "--set loads[fan].draw=1 A: loads[fan].draw: nothing in the list is called \"fan\" (there "
        "are pump, timer)\n");
  CHECK_THAT(problems_of({{"loads[5].draw", "1 A"}}),
             Contains("past the end") && Contains("there are 2"));
  CHECK_THAT(problems_of({{"loads.draw", "1 A"}}),
             Contains("loads is a list (write loads[0] or loads[NAME])"));
  CHECK_THAT(problems_of({{"battery[0].capacity", "1 Ah"}}),
             Contains("battery is an object, not a list"));
  CHECK_THAT(problems_of({{"loads[].draw", "1 A"}}), Contains("not a path"));
  CHECK_THAT(problems_of({{"loads[0", "1 A"}}), Contains("not a path"));
  CHECK_THAT(problems_of({{"battery..capacity", "1 Ah"}}), Contains("not a path"));
  CHECK_THAT(problems_of({{"loads[99999999999999999999].draw", "1 A"}}), Contains("past the end"));
}

TEST_CASE("a message about a setting's path is one line", "[set][errors]") {
  for (const char* const path :
       {"na\nme", "water.linez[a\nb].tube", "loads[\n].draw", "battery.\n\n", "[\n"}) {
    CAPTURE(path);
    Node site;
    site.kind = Node::Kind::object;
    CHECK_THROWS_WITH(apply_setting(site, {path, "1"}, 0), !Contains("\n") && Contains("\\n"));
  }
}

TEST_CASE("a field missing inside what a setting made points at the setting", "[set][errors]") {
  CHECK(problems_of({{"water.lines[0].name", "bed"}, {"water.lines[0].pump.flow", "4 L/min"}}) ==
        "--set water.lines[0].pump.flow=4 L/min: water.lines[0].pump.head: is missing (a quantity "
        "in m, bar, kPa, psi or ft is needed)\n");
}

TEST_CASE("a name given twice in a setting's value is told without a line of the file",
          "[set][errors]") {
  CHECK(problems_of({{"battery", "{\"kind\": \"agm\",\n\"capacity\": 7,\n\"kind\": \"gel\"}"}}) ==
        "--set battery={\"kind\": \"agm\",\\n\"capacity\": 7,\\n\"kind\": \"gel\"}: battery.kind: "
        "given twice\n");
}

TEST_CASE("problems come by line, those of settings first", "[site][errors]") {
  const std::string text = file_text(kRoot + "/tests/bad/mistakes_on_every_line.json");
  const std::vector<Setting> settings = {{"panel.tilt", "steep"}};
  const ReadResult result = read_site(text, "site.json", settings);
  REQUIRE(result.problems.size() == 7);
  CHECK(result.problems[0].line == 0);
  for (std::size_t i = 1; i < result.problems.size(); ++i) {
    CHECK(result.problems[i].line > result.problems[i - 1].line);
  }
}

TEST_CASE("many unknown and repeated names are reported without delay", "[site][errors]") {
  std::string text = "{";
  for (int i = 0; i < 20000; ++i) text += "\"aaaa\": 1, \"b" + std::to_string(i) + "\": 2,\n";
  text += "\"format\": \"amptally-site/1\"}";
  const ReadResult result = read_site(text, "site.json", {});
  // Unknown each time, given again after the first, and the four required objects missing.
  CHECK(result.problems.size() == 40000 + 19999 + 4);
}

TEST_CASE("setting the panel's power keeps its label's proportions", "[io][set]") {
  const std::string site = R"({
    "format": "amptally-site/1", "place": { "latitude": 43.4, "longitude": -5.9 },
    "panel": { "power": "60 W", "vmp": "18 V", "imp": "3.3333 A", "voc": "22 V", "isc": "3.6 A" },
    "battery": { "kind": "agm", "capacity": "18 Ah" }, "loads": [] })";
  const auto panel_with = [&](std::vector<io::Setting> settings) {
    const io::ReadResult result = io::read_site(site, "site.json", settings);
    CAPTURE(problems_text(result));
    REQUIRE(result.site.has_value());
    return result.site->panel;
  };
  const Panel larger = panel_with({{"panel.power", "120 W"}});
  CHECK(std::abs(*larger.imp_a - 6.6667) < 0.001);
  CHECK(std::abs(*larger.isc_a - 7.2) < 0.001);
  CHECK(*larger.vmp_v == 18);
  CHECK(*panel_with({{"panel.power", "0 W"}}).imp_a == 0);
  const Panel own =
      panel_with({{"panel.power", "120 W"}, {"panel.imp", "6.5 A"}, {"panel.isc", "7 A"}});
  CHECK(*own.imp_a == 6.5);
  const io::ReadResult odd = io::read_site(
      site, "site.json", std::vector<io::Setting>{{"panel.power", "120 W"}, {"panel.imp", "3 A"}});
  CHECK_FALSE(odd.problems.empty());
}
