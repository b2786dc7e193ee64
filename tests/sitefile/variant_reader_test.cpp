#include "sitefile/variant_reader.hpp"

#include "amptally/error.hpp"

#include "catch.hpp"
#include "cli/program.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;

namespace {

using Settings = std::vector<io::Setting>;

io::VariantReader reader(const std::string& text, const Settings& fixed, const Settings& varied) {
  std::vector<io::VariedField> fields;
  for (const io::Setting& setting : varied) fields.push_back(io::varied_field(setting.path));
  return {text, "site", fixed, std::move(fields)};
}

std::vector<io::VariedValue> values(const Settings& varied) {
  std::vector<io::VariedValue> made;
  std::vector<io::Problem> problems;
  for (const io::Setting& setting : varied) {
    made.push_back(io::varied_value(io::varied_field(setting.path), setting.value, "", problems));
  }
  return made;
}

/// All of a site that a reader decides, in a form that can be compared and shown.
std::vector<std::string> told(const io::ReadResult& read) {
  std::vector<std::string> lines;
  for (const io::Problem& problem : read.problems) {
    lines.push_back(problem.field + ": " + problem.message);
  }
  if (!read.site) return lines;
  const Site& site = *read.site;
  lines.push_back(site.name);
  for (const double figure :
       {site.place.latitude_deg, site.place.sun_horizontal_kwh_m2_day[11], site.place.albedo,
        site.panel.power_w, site.panel.tilt_deg, site.panel.imp_a.value_or(0),
        site.regulator.standby.value, site.battery.capacity_ah, site.battery.floor_share,
        site.aim.autonomy_days}) {
    lines.push_back(std::to_string(figure));
  }
  for (const Load& load : site.loads) {
    lines.push_back(load.name + " " + std::to_string(load.draw.value) + " " +
                    std::to_string(load.schedule.index()));
  }
  for (const Cable& cable : site.wiring) lines.push_back(cable.name + " to " + cable.feeds);
  lines.push_back(site.water ? std::to_string(site.water->lines.size()) : "no water");
  for (const RoughInput& rough : site.rough) lines.push_back(rough.field);
  for (const Assumption& assumption : site.assumptions) lines.push_back(assumption.text);
  return lines;
}

/// The test program's site with a cable, and loads a water line feeds.
const std::string kWholeSite = R"({
  "format": "amptally-site/1",
  "place": { "name": "Lisbon" },
  "panel": { "vmp": "18 V", "imp": "3.3 A" },
  "battery": { "kind": "agm", "capacity": "17..19 Ah" },
  "water": { "lines": [ { "name": "beds", "pump": { "flow": "400 L/h", "head": "3 m" },
                          "tube": { "length": "10 m", "bore": "13 mm" }, "demand": "20 L" } ] },
  "loads": [
    { "name": "pump", "draw": "2..2.4 A", "from_water": "beds" },
    { "name": "clock", "draw": "15 mA", "always": true } ],
  "wiring": [ { "feeds": "pump", "length": "6 m", "section": "1.5 mm2" } ]
}
)";

}  // namespace

TEST_CASE("a variant reads as the site with these settings does", "[variants]") {
  const Settings rows[] = {
      {{"battery.capacity", "7 Ah"}},
      {{"battery.capacity", "7..9 Ah"}, {"panel.power", "100 W"}},
      {{"battery.kind", "lifepo4"}},
      {{"place.latitude", "-40"}, {"place.longitude", "147"}},
      {{"place.name", "Madrid"}},
      {{"name", "elsewhere"}},
      {{"regulator.kind", "none"}, {"regulator.cutoff", "11 V"}},  // refused
      {{"regulator.kind", "mppt"}},
      {{"loads[clock].draw", "1 W"}, {"loads[pump].per_day", "20 min"}},
      {{"loads[2]", R"({"name":"fan","draw":"1 A","always":true})"}},
      {{"loads[0].name", "drip"}},        // refused: the cable feeds nobody
      {{"water.lines[0].name", "rows"}},  // refused: the pump's line is gone
      {{"loads[9].draw", "1 A"}},         // refused: no such load
      {{"wiring[0].length", "60 m"}, {"aim.autonomy", "5 days"}},
      {{"water", R"({"tank":{"volume":"100 L"}})"}, {"loads[0].always", "true"}},
  };
  const Settings fixed = {{"panel.tilt", "20 deg"}, {"aim.shortfall_days", "2 days"}};
  for (const Settings& varied : rows) {
    CAPTURE(varied.front().path);
    Settings all = fixed;
    all.insert(all.end(), varied.begin(), varied.end());
    const io::VariantReader variants = reader(kWholeSite, fixed, varied);
    REQUIRE(variants.unchanged().site);
    CHECK(told(variants.unchanged()) == told(io::read_site(kWholeSite, "site", fixed)));
    const std::vector<std::string> expected = told(io::read_site(kWholeSite, "site", all));
    CHECK(told(variants.read(values(varied))) == expected);
    CHECK(told(variants.read(values(varied))) == expected);  // reading leaves no trace
  }
}

TEST_CASE("a variant reader tells every problem of its file", "[variants][errors]") {
  const io::VariantReader variants = reader("{", {}, {{"battery.capacity", "7 Ah"}});
  CHECK_FALSE(variants.unchanged().site);
  CHECK(variants.unchanged().problems.size() == 1);
}

TEST_CASE("a value that another setting overwrites, or that has no place, is refused",
          "[variants][errors]") {
  const std::string fan = R"({"name":"fan","draw":"1 A","always":true})";
  struct Row {
    Settings varied;
    const char* told;  ///< empty: all is well
  };
  const Row rows[] = {
      {{{"battery.capacity", "7"}, {"panel.power", "8"}}, ""},
      {{{"loads[0]", fan}, {"loads[0].draw", "1"}}, ""},
      {{{"loads[pump].draw", "1"}, {"loads[0].draw", "2"}}, "loads[pump].draw: does not last"},
      {{{"panel.power", "8"}, {"loads[0].draw", "2"}, {"loads[pump].draw", "1"}},
       "loads[0].draw: does not last"},
      {{{"loads[0].always", "true"}, {"loads[0].per_day", "5 min"}},
       "loads[0].always: does not last"},
      {{{"loads[0].draw", "1"}, {"loads[0]", fan}}, "loads[0].draw: does not last"},
      {{{"loads[pmp].draw", "1"}}, "did you mean pump?"},
      {{{"loads[7].draw", "1"}}, "[7] is past the end"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.varied.back().path);
    std::string told;
    try {
      reader(kWholeSite, {}, row.varied).check_places(values(row.varied));
    } catch (const InputError& error) {
      told = error.what();
    }
    CAPTURE(told);
    CHECK(told.empty() == std::string(row.told).empty());
    CHECK(told.find(row.told) != std::string::npos);
  }
}
