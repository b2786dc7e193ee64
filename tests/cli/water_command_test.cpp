#include <algorithm>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "program.hpp"

using namespace amptally::test;
using Catch::Matchers::WithinRel;
using nlohmann::json;

namespace {

// Two lines on one tank: beds by crop, with their pump's minutes from the line; a trough beside.
const std::string kWatered = R"({
  "format": "amptally-site/1",
  "name": "Two lines",
  "place": { "latitude": 43.38, "longitude": -5.87 },
  "panel": { "power": "40 W" },
  "battery": { "kind": "agm", "capacity": "20 Ah" },
  "loads": [{ "name": "bed pump", "draw": "1 A", "from_water": "beds", "months": "Apr-Sep" }],
  "water": {
    "tank": { "volume": "1 m3", "level": "1 m", "roof": "40 m2" },
    "lines": [
      {
        "name": "beds",
        "pump": { "flow": "240 L/h", "head": "3 m" },
        "tube": { "length": "10 m", "bore": "4 mm" },
        "demand": { "area": "4 m2", "crop": "tomato" },
        "valve": "solenoid"
      },
      {
        "name": "trough",
        "pump": { "flow": "100 L/h", "head": "2 m" },
        "lift": "-20 cm",
        "tube": { "length": "2 m", "bore": "6 mm" },
        "demand": "10 L"
      }
    ]
  }
})";

Ran water(std::vector<std::string> more) {
  std::vector<std::string> words = {"water", "-"};
  words.insert(words.end(), more.begin(), more.end());
  return ran(words, kWatered);
}

}  // namespace

TEST_CASE("water tells machines all it found", "[cli][water]") {
  const json result = json::parse(water({"--format", "json"}).out);
  CHECK(result["schema"] == "amptally-water/1");
  REQUIRE(result["lines"].size() == 2);
  const json& beds = result["lines"][0];
  CHECK(beds["name"] == "beds");
  CHECK(beds["regime"] == "between");
  CHECK(beds["wider_bore_mm"] == 6);
  CHECK(beds["outlets_l_h"].size() == 1);
  CHECK(beds["minutes_day"].size() == 12);
  CHECK(beds["minutes_day"][0] == 0);
  CHECK(beds["minutes_day"][6].get<double>() > beds["minutes_day"][3].get<double>());
  // 1 A and the valve's 4 W at 12 V, while it runs.
  CHECK_THAT(beds["use_ah_day"][6].get<double>(),
             WithinRel(beds["minutes_day"][6].get<double>() / 60 * (1 + 4.0 / 12), 1e-9));
  CHECK(beds["siphon_l_h"].is_null());
  const json& trough = result["lines"][1];
  CHECK(trough["siphon_l_h"].get<double>() > 0);
  CHECK_THAT(trough["siphon_until_m"].get<double>(), WithinRel(0.8, 1e-12));
  CHECK(trough["use_ah_day"].is_null());
  CHECK(result["tank"]["dry_days"].is_number_integer());
  // The trough siphons the barrel down each night, so that it does not run over.
  CHECK(result["tank"]["siphon_l"].get<double>() > 0);
  CHECK(result["tank"]["filled_by_hand"] == false);
  CHECK(result["tank"]["filling_days"].size() == 12);
  CHECK(trough["why_no_flow"].is_null());
  const json kept = json::parse(
      water({"--format", "json", "--set", "water.lines[1].valve=air-break"}).out)["tank"];
  CHECK(kept["overflow_l"].get<double>() > 0);
  CHECK(kept["siphon_l"] == 0);
  REQUIRE(result["findings"].size() >= 1);
  CHECK(result["findings"][0]["topic"] == "siphon");
}

TEST_CASE("water's table says what a wider tube saves", "[cli][water]") {
  const Ran run = water({});
  CHECK(run.status == 0);
  CHECK(run.out.starts_with("Enough: "));
  CHECK(holds(run.out, "6 mm instead of 4 mm"));
  CHECK(holds(run.out, "Warning: siphon"));
  const Ran quiet = water({"--quiet"});
  CHECK(run.out.starts_with(quiet.out.substr(0, 60)));
  CHECK(quiet.out.size() < run.out.size());
  CHECK(water({"--format", "md"}).status == 0);
}

TEST_CASE("water as CSV has a row a line and month", "[cli][water]") {
  const Ran run = water({"--format", "csv"});
  CHECK(run.out.starts_with("line,month,demand_l_day,minutes_day,use_ah_day,use_wh_day\nbeds,1,"));
  CHECK(std::count(run.out.begin(), run.out.end(), '\n') == 1 + 2 * 12);
}

TEST_CASE("water sets the exit status where water does not suffice", "[cli][water]") {
  const Ran dry = water({"--set", "water.tank.roof=1 m2"});
  CHECK(dry.status == 1);
  CHECK(dry.out.starts_with("Not enough: The tank runs dry on "));
  const Ran slow = water({"--set", "water.lines[1].demand=5000 L"});
  CHECK(slow.status == 1);
  CHECK(holds(slow.out, "trough cannot bring its demand in a day."));
}

namespace {

// One line of a pump's label, with what the tests add to it.
std::string pumped(const std::string& line, const std::string& tank = "") {
  return R"({
  "format": "amptally-site/1",
  "place": { "latitude": 43.38, "longitude": -5.87 },
  "panel": { "power": "40 W" },
  "battery": { "kind": "agm", "capacity": "20 Ah" },
  "loads": [{ "name": "pump", "draw": "1 A", "runs": [{ "at": "07:00", "for": "10 min" }] }],
  "water": { )" +
         tank + R"( "lines": [{ "name": "beds", )" + line + R"(, "demand": "20 L" }] }
})";
}

const std::string kPump = R"("pump": { "flow": "240 L/h", "head": "3 m" })";
const std::string kTube = R"("tube": { "length": "10 m", "bore": "9 mm" })";

}  // namespace

TEST_CASE("a line with neither tube nor outlets is not told a flow, but asked for them",
          "[cli][water]") {
  const Ran run = ran({"water", "-"}, pumped(kPump));
  CHECK(run.status == 1);
  CHECK(run.out.starts_with(
      "Not known: beds has neither tube nor outlets, so its flow is not known."));
  CHECK(holds(run.out, "give its tube"));
  CHECK_FALSE(holds(run.out, "L/h"));
  const json line =
      json::parse(ran({"water", "-", "--format", "json"}, pumped(kPump)).out)["lines"][0];
  CHECK(line["flow_l_h"].is_null());
  CHECK(line["minutes_day"].is_null());
  CHECK(line["why_no_flow"] == "has neither tube nor outlets, so its flow is not known");
  // A load that is to run by it is refused, in the line of the file.
  const Ran budget = ran({"budget", "-", "--set",
                          "loads[0]={\"name\": \"pump\", \"draw\": \"1 A\", "
                          "\"from_water\": \"beds\"}"},
                         pumped(kPump));
  CHECK(budget.status == 2);
  CHECK(holds(budget.err, "line \"beds\" has neither tube nor outlets, which set its minutes"));
  // With one of them it is told, and what was taken for the other.
  const Ran tubed = ran({"water", "-"}, pumped(kPump + ", " + kTube));
  CHECK(tubed.status == 0);
  CHECK(holds(tubed.out, "beds: no outlets given, so its tube ends open."));
}

TEST_CASE("a line that nothing drives is said not to be enough", "[cli][water]") {
  const Ran run = ran({"water", "-", "--format", "md"}, pumped(kTube));
  CHECK(run.status == 1);
  CHECK(run.out.starts_with("**Not enough:** beds has nothing that drives it.\n"));
  CHECK(holds(run.out, "give its pump, or a lift below 0"));
  const Ran falls = ran({"water", "-"}, pumped(kTube + R"(, "lift": "-50 cm")"));
  CHECK(falls.status == 0);
}

TEST_CASE("a tank that nothing fills is told by how long a filling lasts", "[cli][water]") {
  const std::string line = kPump + ", " + kTube;
  const std::string site = pumped(line, R"("tank": { "volume": "200 L" },)");
  const Ran run = ran({"water", "-", "--format", "md"}, site);
  CHECK(run.status == 0);
  CHECK(holds(run.out, "a filling of the tank lasts 10 days or more"));
  CHECK(holds(run.out, "Neither roof nor refill fills it. A filling lasts 10 days."));
  CHECK_FALSE(holds(run.out, "365"));
  CHECK_FALSE(holds(run.out, "Rain"));
  const json tank = json::parse(ran({"water", "-", "--format", "json"}, site).out)["tank"];
  CHECK(tank["filled_by_hand"] == true);
  CHECK(tank["dry_days"].is_null());
  CHECK_THAT(tank["filling_days"][4].get<double>(), WithinRel(10, 1e-9));
  const Ran small = ran({"water", "-"}, pumped(line, R"("tank": { "volume": "10 L" },)"));
  CHECK(small.status == 1);
  CHECK(holds(small.out, "A filling of the tank lasts only 0.5 days"));
  // Rain keeps up only where there is a roof to catch it.
  const Ran idle = ran({"water", "-", "--set", "water.lines[0].demand=0 L"}, site);
  CHECK_FALSE(holds(idle.out, "Rain"));
  CHECK(holds(idle.out, "No line takes anything from it."));
  CHECK(holds(
      ran({"water", "-"}, pumped(line, R"("tank": { "volume": "200 L", "roof": "200 m2" },)")).out,
      "Rain alone keeps up"));
}

TEST_CASE("water tells what ranges leave open", "[cli][water][rough]") {
  const auto with = [](std::vector<std::string> words, const std::string& set) {
    words.insert(words.end(), {"--set", set});
    return ran(words, pumped(kPump + ", " + kTube, R"("tank": { "volume": "30 L" },)"));
  };
  const std::string demand = "water.lines[0].demand=10..50 L";
  const Ran told = with({"water", "-", "--format", "md"}, demand);
  CHECK(holds(told.out, "beds (10 to 50 L)"));
  CHECK(holds(told.out, "water is enough in "));
  CHECK(holds(told.out, " of 100 cases (128 tried)."));
  CHECK(holds(told.out, "min a day in the month that takes longest"));
  CHECK(holds(told.out, "Tank: 0.7 to 2.1 days from a filling at the least."));
  const json rough = json::parse(with({"water", "-", "--format", "json"}, demand).out)["rough"];
  CHECK(rough["cases"] == 128);
  // Half of the cases ask more than the 30 L that a filling holds.
  CHECK(std::abs(rough["holds_share"].get<double>() - 0.5) < 0.02);
  CHECK_THAT(rough["lines"][0]["longest_minutes_day"]["p90"].get<double>() /
                 rough["lines"][0]["longest_minutes_day"]["p10"].get<double>(),
             WithinRel(46.0 / 14, 0.03));
  CHECK(rough["tank"]["dry_days"].is_null());
  CHECK(rough["lines"][0]["siphon_night_l"].is_null());
  CHECK_FALSE(holds(with({"water", "-", "--quiet"}, demand).out, "Rough"));
  CHECK(holds(with({"water", "-", "--format", "md"}, "loads[0].draw=1..2 A").out,
              "None of these ranges moves a figure above."));
}

TEST_CASE("a budget runs a load by its line's minutes", "[cli][water]") {
  const json minutes = json::parse(water({"--format", "json"}).out)["lines"][0]["minutes_day"];
  const Ran run = ran(
      {"budget", "-", "--weather", "mean", "--format", "json", "--set", "regulator.standby=0 A"},
      kWatered);
  const json result = json::parse(run.out);
  const double july = result["months"][6]["use_ah_day"];
  CHECK_THAT(july, WithinRel(minutes[6].get<double>() / 60 * (1 + 4.0 / 12), 1e-9));
  CHECK(result["months"][0]["use_ah_day"].get<double>() == 0);
  bool has_valve = false;
  for (const json& use : result["uses"]) has_valve |= use["name"] == "valve of beds";
  CHECK(has_valve);
  CHECK(holds(run.out, "\"topic\": \"siphon\""));
}

TEST_CASE("every command runs a load by its line's minutes", "[cli][water]") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"levers", "-", "--years", "2"},
        {"size", "-", "--years", "2"},
        {"fit", "-", "--years", "2", "--load", "valve: 300 mA, 1 min/day"}}) {
    CAPTURE(words[0]);
    const Ran run = ran(words, kWatered);
    CHECK(run.status <= 1);
    CHECK(run.err.empty());
  }
}

TEST_CASE("a water line that cannot run is told in one line", "[cli][water][errors]") {
  const std::vector<std::string> lift = {"--set", "water.lines[0].lift=4 m"};
  const Ran weak = water(lift);
  CHECK(weak.status == 2);
  CHECK(weak.out.empty());
  CHECK(weak.err ==
        "amptally: water line \"beds\": the pump's 3 m of head cannot bring water to the outlets, "
        "4 m above the water: it lacks more than 1 m of head (give a stronger pump, a smaller lift "
        "or a wider tube)\n");
  const Ran budget = ran({"budget", "-", "--set", "water.lines[0].lift=4 m"}, kWatered);
  CHECK(budget.status == 2);
  CHECK(budget.err == weak.err);
  const Ran crop = water({"--set", "water.lines[0].demand.crop=tomatoe"});
  CHECK(crop.status == 2);
  CHECK(holds(crop.err, "did you mean tomato?"));
  const Ran none = ran({"water", "-"}, kSite);
  CHECK(none.status == 2);
  CHECK(none.err == "amptally: water: is not in the site file; see amptally explain water.lines\n");
}
