#include <algorithm>
#include <cstdio>
#include <fstream>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "cli/program.hpp"

using namespace amptally::test;
using Json = nlohmann::ordered_json;

namespace {

const std::vector<std::string> kWeather = {"--years", "4"};
const std::string kParts = AMPTALLY_SOURCE_DIR "/examples/parts.json";

Ran size_of(const std::string& site, std::vector<std::string> more = {}) {
  std::vector<std::string> words = {"size", "-"};
  words.insert(words.end(), kWeather.begin(), kWeather.end());
  words.insert(words.end(), more.begin(), more.end());
  return ran(words, site);
}

std::string example(const char* name) {
  std::ifstream file(std::string(AMPTALLY_SOURCE_DIR "/examples/") + name);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

/// The site as the result says to change it, run as a plain budget.
Ran budget_with(const std::string& site, const Json& pair) {
  std::vector<std::string> words = {"budget", "-", "--weather", "synthetic", "--quiet"};
  words.insert(words.end(), kWeather.begin(), kWeather.end());
  for (const auto& item : pair["set"].items()) {
    words.push_back("--set");
    words.push_back(item.key() + "=" + item.value().get<std::string>());
  }
  return ran(words, site);
}

}  // namespace

TEST_CASE("sizes written back into the site hold in a plain budget", "[cli][size]") {
  for (const char* name : {"terrace.json", "goat-trough.json", "cold-frame.json"}) {
    const std::string site = example(name);
    CAPTURE(name);
    for (const std::vector<std::string>& more :
         {std::vector<std::string>{"--format", "json"},
          std::vector<std::string>{"--format", "json", "--tilt", "--battery-price", "9"}}) {
      const Ran sized = size_of(site, more);
      REQUIRE(sized.status == 0);
      const Json json = Json::parse(sized.out);
      for (const char* pair : {"best", "as_sold"}) {
        CAPTURE(pair, json[pair].dump());
        const Ran budget = budget_with(site, json[pair]);
        CHECK(budget.err.empty());
        CHECK(budget.status == 0);
      }
    }
  }
}

TEST_CASE("size as JSON has the keys that docs/outputs.md names", "[cli][size]") {
  const Json json = Json::parse(size_of(kRoughSite, {"--format", "json"}).out);
  CHECK(keys_of(json) == std::vector<std::string>{
                             "schema", "program", "site", "weather", "aim", "prices", "best",
                             "as_sold", "tilt_deg", "tilts_deg", "pairs", "worksheet",
                             "evaluations", "findings", "assumptions", "rough_inputs", "rough"});
  CHECK(json["schema"] == "amptally-size/1");
  CHECK(json["weather"]["mode"] == "synthetic");
  CHECK(json["tilt_deg"] == 55);
  CHECK(keys_of(json["best"]) ==
        std::vector<std::string>{"panel_power_w", "battery_capacity_ah", "cost", "set"});
  CHECK(keys_of(json["pairs"][0]) ==
        std::vector<std::string>{"panel_power_w", "battery_capacity_ah", "cost", "meets_aim",
                                 "shortfall_days", "deepest_discharge", "autonomy_days"});
  CHECK(keys_of(json["worksheet"]) ==
        std::vector<std::string>{"design_month", "panel_power_w", "battery_capacity_ah"});
  CHECK(json["worksheet"]["design_month"] == 12);
  for (const Json& pair : json["pairs"]) CHECK(pair["meets_aim"] == true);
  CHECK(json["evaluations"] <= 160);
}

TEST_CASE("prices given decide the sizes and are said", "[cli][size]") {
  const Ran usual = size_of(kSite);
  CHECK(holds(usual.out, "Smallest cost: "));
  CHECK(holds(usual.out, "invented ones"));
  const Ran own = size_of(kSite, {"--panel-price", "0.8", "--battery-price", "3"});
  CHECK(holds(own.out, "Prices: 0.8 a watt of panel, 3 an amp-hour of 12 V battery."));
  CHECK_FALSE(holds(own.out, "invented"));
}

TEST_CASE("size as CSV has a row a pair, as Markdown the table's content", "[cli][size]") {
  const Ran csv = size_of(kSite, {"--format", "csv"});
  CHECK(csv.out.rfind("panel_power_w,battery_capacity_ah,cost,meets_aim,shortfall_days,"
                      "deepest_discharge,autonomy_days\n",
                      0) == 0);
  CHECK(std::count(csv.out.begin(), csv.out.end(), '\n') > 4);
  const Ran md = size_of(kSite, {"--format", "md"});
  CHECK(holds(md.out, "**Smallest cost:**"));
  CHECK(holds(md.out, "--set battery.capacity="));
  CHECK(size_of(kSite, {"--quiet"}).out.size() < 250);
}

TEST_CASE("size tells an aim out of reach, with status 1", "[cli][size]") {
  const std::string north = R"({
    "format": "amptally-site/1",
    "place": { "latitude": 80, "longitude": 15,
               "insolation": [0, 0, 0.7, 2.9, 5.4, 6, 4.6, 2.7, 1.1, 0.1, 0, 0],
               "temperature": [-14, -15, -15, -12, -5, 2, 6, 5, 0, -6, -10, -13] },
    "panel": { "power": "60 W", "tilt": "60 deg" },
    "battery": { "kind": "agm", "capacity": "100 Ah" },
    "loads": [{ "name": "beacon", "draw": "100 mA", "always": true }]
  })";
  const Ran table = size_of(north);
  CHECK(table.status == 1);
  CHECK(holds(table.out, "Nothing meets the aim: even "));
  CHECK(holds(table.out, "No sun reaches the panel in January."));
  const Json json = Json::parse(size_of(north, {"--format", "json"}).out);
  CHECK(json["best"].is_null());
  CHECK(json["worksheet"]["panel_power_w"].is_null());
  CHECK(json["pairs"][0]["meets_aim"] == false);
}

TEST_CASE("a site with nothing to size is one line and status 2", "[cli][size][errors]") {
  const std::string idle = R"({
    "format": "amptally-site/1", "place": { "latitude": 43.5, "longitude": -5.7 },
    "panel": { "power": "60 W" }, "regulator": { "kind": "none" },
    "battery": { "kind": "agm", "capacity": "18 Ah" }, "loads": []
  })";
  const Ran run = size_of(idle);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(run.err == "amptally: nothing draws from the battery: there is nothing to size\n");
}

TEST_CASE("size in the mean year asks for no more than in synthetic years", "[cli][size]") {
  const Ran mean = ran({"size", "-", "--weather", "mean", "--format", "json"}, kSite);
  const Json json = Json::parse(mean.out);
  CHECK(json["weather"]["mode"] == "mean");
  CHECK(json["weather"]["years"] == 1);
  // Spells of dull days ask for more than the mean day.
  const Json spells = Json::parse(size_of(kSite, {"--format", "json"}).out);
  CHECK(json["best"]["cost"] <= spells["best"]["cost"]);
}

TEST_CASE("size with a parts list tells the cheapest set, in a table and to machines",
          "[cli][size][parts]") {
  const Ran table = size_of(kSite, {"--parts", kParts});
  REQUIRE(table.status == 0);
  CHECK(holds(table.out, "Cheapest set: "));
  CHECK(holds(table.out, "Sets a little cheaper, and why not"));
  const Json json = Json::parse(size_of(kRoughSite, {"--parts", kParts, "--format", "json"}).out);
  CHECK(keys_of(json) == std::vector<std::string>{"schema", "program", "site", "weather", "sets",
                                                  "possible", "evaluations", "assumptions",
                                                  "rough_inputs", "rough"});
  const Json& first = json["sets"][0];
  CHECK(first["meets_aim"] == true);
  CHECK(first["why_not"] == "");
  CHECK(first["counts"]["panels"] >= 1);
  CHECK(json["sets"].back()["meets_aim"] == false);
  CHECK(json["sets"].back()["why_not"] != "");
  const Ran csv = size_of(kSite, {"--parts", kParts, "--format", "csv"});
  CHECK(csv.out.rfind("panel,panels,panels_in_series,battery,", 0) == 0);
}

TEST_CASE("options of size that cannot be used cost one line and status 2", "[cli][size][errors]") {
  const auto refused = [](std::vector<std::string> more, const std::string& message) {
    const Ran run = size_of(kSite, std::move(more));
    CHECK(run.status == 2);
    CHECK(run.out.empty());
    CHECK(std::count(run.err.begin(), run.err.end(), '\n') == 1);
    CHECK(holds(run.err, message));
  };
  refused({"--panel-price", "0,8"}, "\"0,8\" is not a number in 0..1000000 (write 0.8, not 0,8)");
  refused({"--battery-price", "-1"}, "--battery-price: \"-1\" is not a number in 0..1000000");
  refused({"--panel-price", "nan"}, "\"nan\" is not a number");
  refused({"--parts", kParts, "--tilt"}, "--tilt does not go with --parts");
  refused({"--parts", kParts, "--panel-price", "1"}, "--panel-price does not go with --parts");
  refused({"--parts", "-"}, "only one of site, weather and parts");
  refused({"--parts", "no-such-file.json"}, "no-such-file.json");
}

TEST_CASE("a wrong parts list is told like a wrong site", "[cli][size][errors]") {
  const std::string site = AMPTALLY_SOURCE_DIR "/examples/terrace.json";
  const Ran run = ran({"size", site, "--parts", "-"}, R"({
  "format": "amptally-parts/1",
  "panels": [{ "name": "p", "price": 3, "power": "50 V" }],
  "batteries": [{ "name": "b", "price": 3, "kind": "agm", "capacity": "9 Ah", "floor": 0.5 }],
  "regulators": [{ "name": "r", "price": 3 }]
})");
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(holds(run.err, "amptally: standard input:3:50: panels[0].power: \"50 V\": V is a voltage"));
  CHECK(holds(run.err, "amptally: standard input:4:79: batteries[0].floor: unknown field"));
}

TEST_CASE("the schema of the parts list is printed on request", "[cli][schema]") {
  const Json schema = Json::parse(ran({"schema", "parts"}).out);
  CHECK(schema["title"] == "Parts list, amptally-parts/1");
  CHECK(schema["required"] == Json({"format", "panels", "batteries", "regulators"}));
  CHECK(ran({"schema", "site"}).out == ran({"schema"}).out);
  const Ran wrong = ran({"schema", "part"});
  CHECK(wrong.status == 2);
  CHECK(holds(wrong.err, "did you mean parts?"));
}
