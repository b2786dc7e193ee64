#include <algorithm>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "cli/program.hpp"

using namespace amptally::test;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> levers(std::vector<std::string> more) {
  // Less panel than the site of the tests has: the winter runs short.
  std::vector<std::string> words = {"levers",          "-",     "--years",           "3", "--set",
                                    "panel.power=8 W", "--set", "aim.autonomy=1 day"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json levers_json(std::vector<std::string> more = {}, const std::string& site = kSite) {
  more.insert(more.end(), {"--format", "json"});
  return Json::parse(ran(levers(more), site).out);
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

using Keys = std::vector<std::string>;

/// Sun enough, but too small a battery for the aim.
const std::vector<std::string> kThin = {
    "--set", "panel.power=200 W", "--set", "battery.capacity=7 Ah", "--set", "aim.autonomy=3 days"};

}  // namespace

TEST_CASE("levers says what is missed, then what would mend it", "[cli][levers]") {
  const Ran run = ran(levers(kThin), kSite);
  CHECK(run.status == 1);
  CHECK(run.err.empty());
  CHECK(run.out.starts_with("Too little in store"));
  CHECK(holds(run.out, "Any one of these meets the aim, the smallest change first"));
  CHECK(holds(run.out, "battery 7 Ah -> "));
  CHECK(holds(run.out, "Not enough alone, the most helpful first"));
  CHECK(holds(run.out, "No help alone: "));
  CHECK_FALSE(holds(run.out, "W more panel"));
}

TEST_CASE("a lever's needed value, set, meets the aim", "[cli][levers]") {
  int tried = 0;
  const Json found = levers_json(kThin);
  for (const Json& lever : found["levers"]) {
    const std::string field = lever["field"];
    if (!lever["reaches_aim"] || lever["needed"].is_string() || field == "panel.shade") continue;
    const std::string unit = lever["unit"] == "share" ? "" : " " + std::string(lever["unit"]);
    CAPTURE(field);
    const std::string setting = field + "=" + lever["needed"].dump() + unit;
    std::vector<std::string> changed = kThin;
    changed.insert(changed.end(), {"--set", setting, "--quiet"});
    const Ran run = ran(levers(changed), kSite);
    CHECK(run.status == 0);
    CHECK(run.out.starts_with("Holds in changeable weather"));
    ++tried;
  }
  CHECK(tried == 3);
}

TEST_CASE("the levers' keys are the documented ones, in order", "[cli][json][levers]") {
  const Json result = levers_json({}, kRoughSite);
  CHECK(result["schema"] == "amptally-levers/1");
  CHECK(keys_of(result) == Keys{"schema", "program", "site", "weather", "verdict", "aim", "aim_met",
                                "year", "levers", "assumptions", "rough_inputs", "rough"});
  CHECK(result["verdict"] == "short");
  CHECK(keys_of(result["aim_met"]) == Keys{"autonomy", "shortfall", "floor"});
  REQUIRE_FALSE(result["levers"].empty());
  for (const Json& lever : result["levers"]) {
    CHECK(keys_of(lever) == Keys{"field", "unit", "now", "needed", "limit", "reaches_aim", "helps",
                                 "shortfall_days", "floor_days", "autonomy_days", "text"});
    CHECK(lever["needed"].is_null() != lever["limit"].is_null());
    CHECK(lever["reaches_aim"] == !lever["needed"].is_null());
  }
}

TEST_CASE("levers as CSV has a row a lever", "[cli][levers]") {
  const Ran run = ran(levers({"--format", "csv"}), kSite);
  CHECK(run.out.starts_with("field,unit,now,needed,limit,reaches_aim,"));
  const auto rows = std::count(run.out.begin(), run.out.end(), '\n') - 1;
  CHECK(static_cast<std::size_t>(rows) == levers_json()["levers"].size());
  CHECK(holds(run.out, "\nregulator.kind,,pwm,"));
}

TEST_CASE("levers has nothing to change where the aim is met", "[cli][levers]") {
  const std::vector<std::string> enough = {"--set", "panel.power=300 W", "--set",
                                           "battery.capacity=100 Ah"};
  const Ran run = ran(levers(enough), kSite);
  CHECK(run.status == 0);
  CHECK(run.out.starts_with("Holds"));
  CHECK(holds(run.out, "nothing needs to change"));
  const Json result = levers_json(enough);
  CHECK(result["verdict"] == "holds");
  CHECK(result["levers"].empty());
}

TEST_CASE("levers says so where no single change will do", "[cli][levers]") {
  const std::vector<std::string> hopeless = {"--set", "loads[0].per_day=20 h",
                                             "--set", "loads[1].draw=3 A",
                                             "--set", "aim.autonomy=30 days"};
  const Ran run = ran(levers(hopeless), kSite);
  CHECK(run.status == 1);
  CHECK(holds(run.out, "No single change meets the aim."));
  std::vector<std::string> quiet = hopeless;
  quiet.push_back("--quiet");
  CHECK(ran(levers(quiet), kSite).out == "No single change meets the aim.\n");
}
