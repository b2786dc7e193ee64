#include <algorithm>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "program.hpp"

using namespace amptally::test;
using Json = nlohmann::ordered_json;

namespace {

/// The sound site with cables of the lengths and sections given.
std::string wired(const std::string& cables) {
  std::string site = kSite;
  return site.insert(site.rfind('}'), ", \"wiring\": [" + cables + "]\n");
}

const std::string kPumpCable = R"({ "feeds": "misting pump", "length": "9 m", "section": )";

}  // namespace

TEST_CASE("wiring says by its exit status whether the cables do", "[cli][wiring]") {
  const Ran thick = ran({"wiring", "-"}, wired(kPumpCable + R"("2.5 mm2" })"));
  CHECK(thick.status == 0);
  CHECK(thick.out.starts_with("Good: All cables are thick enough."));
  CHECK(thick.err.empty());
  const Ran thin = ran({"wiring", "-", "--quiet"}, wired(kPumpCable + R"("0.75 mm2" })"));
  CHECK(thin.status == 1);
  CHECK(thin.out.starts_with("Too thin: misting pump: 0.75 mm² drops 9.3 % of 12 V at 2.2 A, 3 %"));
  CHECK_FALSE(holds(thin.out, "Worth knowing"));
  // Thick enough for the drop, but the fuse would let more pass than it carries.
  const Ran overloaded = ran({"wiring", "-", "--quiet", "--set", "loads[0].draw=7 A"},
                             wired(R"({ "feeds": "misting pump", "length": "10 cm", )"
                                   R"("section": "0.75 mm2" })"));
  CHECK(overloaded.status == 1);
  CHECK(overloaded.out.starts_with("No fuse fits: misting pump: 0.75 mm² carries 6 A"));
}

TEST_CASE("wiring without a section works one out", "[cli][wiring]") {
  const std::string cable = R"({ "feeds": "misting pump", "length": "9 m" })";
  const Ran run = ran({"wiring", "-"}, wired(cable));
  CHECK(run.status == 0);
  CHECK(holds(run.out, "No section is given for misting pump"));
  CHECK(holds(run.out, "2.5 mm² (12 AWG)"));
  const Json result = Json::parse(ran({"wiring", "-", "--format", "json"}, wired(cable)).out);
  CHECK(result["cables"][0]["section_mm2"].is_null());
  CHECK(result["cables"][0]["next_section_mm2"] == 2.5);
}

TEST_CASE("wiring tells machines what docs/outputs.md says", "[cli][wiring]") {
  const std::string site =
      wired(kPumpCable + R"("18 AWG" },)"
                         R"({ "name": "roof", "feeds": "panel", "length": "6 m" })");
  const Ran run = ran({"wiring", "-", "--format", "json"}, site);
  const Json result = Json::parse(run.out);
  std::vector<std::string> keys;
  for (const auto& item : result.items()) keys.push_back(item.key());
  CHECK(keys == std::vector<std::string>{"schema", "program", "site", "cables", "findings",
                                         "assumptions", "rough_inputs"});
  CHECK(result["schema"] == "amptally-wiring/1");
  keys.clear();
  const Json& cable = result["cables"][0];
  for (const auto& item : cable.items()) keys.push_back(item.key());
  CHECK(keys == std::vector<std::string>{"name", "feeds", "current_a", "drop_v", "drop_share",
                                         "max_drop_share", "start_drop_share", "loss_wh_day",
                                         "section_mm2", "next_section_mm2", "next_section_awg",
                                         "fuse_a", "voltage_at_load_v", "flow_share"});
  CHECK(cable["name"] == "misting pump");
  CHECK(cable["next_section_awg"] == 12);
  CHECK(cable["fuse_a"] == 3.0);
  CHECK(std::abs(cable["flow_share"].get<double>() - (1 - cable["drop_share"].get<double>())) <
        1e-8);
  CHECK(result["cables"][1]["flow_share"].is_null());
  CHECK(std::any_of(result["findings"].begin(), result["findings"].end(),
                    [](const Json& finding) { return finding["topic"] == "thin cable"; }));
  const Ran csv = ran({"wiring", "-", "--format", "csv"}, site);
  CHECK(csv.out.starts_with("name,feeds,current_a,drop_v,drop_share,max_drop_share,"));
  CHECK(std::count(csv.out.begin(), csv.out.end(), '\n') == 3);
}

TEST_CASE("wiring tells what ranges leave open", "[cli][wiring][rough]") {
  const std::vector<std::string> rough = {"--set", "loads[0].draw=1.5..2.9 A"};
  const auto with = [&](std::vector<std::string> words) {
    words.insert(words.end(), rough.begin(), rough.end());
    return ran(words, wired(kPumpCable + R"("2.5 mm2" })"));
  };
  const Ran told = with({"wiring", "-", "--format", "md"});
  CHECK(holds(told.out, "Rough numbers"));
  CHECK(holds(told.out, "of misting pump (1.5 to 2.9 A)"));
  CHECK(holds(told.out, "all cables are thick enough in "));
  CHECK(holds(told.out, " of 100 cases (128 tried)."));
  CHECK(holds(told.out, "In eight cases of ten:"));
  CHECK(holds(told.out, "misting pump: 1.6"));
  const Json json = Json::parse(with({"wiring", "-", "--format", "json"}).out);
  CHECK(json["rough_inputs"].size() == 1);
  CHECK(json["rough"]["cases"] == 128);
  const Json& cable = json["rough"]["cables"][0];
  CHECK(cable["name"] == "misting pump");
  CHECK(cable["drop_share"]["p10"] < cable["drop_share"]["p90"]);
  CHECK(cable["holds_share"] == json["rough"]["holds_share"]);
  // By hand: 18 m of 7.98 ohm/km at 20 deg C, brought to 40 deg C, drop 3 % of 12 V at 2.32 A.
  CHECK(std::abs(cable["holds_share"].get<double>() - (2.32 - 1.5) / (2.9 - 1.5)) < 0.02);
  CHECK_FALSE(holds(with({"wiring", "-", "--quiet"}).out, "Rough"));
  const std::string exact = wired(kPumpCable + R"("2.5 mm2" })");
  CHECK_FALSE(Json::parse(ran({"wiring", "-", "--format", "json"}, exact).out).contains("rough"));
}

TEST_CASE("a site without cables is told how to add them", "[cli][wiring]") {
  const Ran run = ran({"wiring", "-"}, kSite);
  CHECK(run.status == 0);
  CHECK(run.out.starts_with("No cables in the site file. Add them: "));
  const Ran machines = ran({"wiring", "-", "--format", "json"}, kSite);
  CHECK(machines.status == 0);
  CHECK(Json::parse(machines.out)["cables"].empty());
}

TEST_CASE("a cable to a load that is not there is refused", "[cli][wiring][errors]") {
  const Ran run = ran({"wiring", "-"}, wired(R"({ "feeds": "mist pump", "length": "9 m" })"));
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(holds(run.err, "did you mean misting pump?"));
}
