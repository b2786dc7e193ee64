#include <fstream>
#include <set>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "cli/program.hpp"

using namespace amptally::test;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

Json result(std::vector<std::string> words, const std::string& input = kSite) {
  words.insert(words.end(), {"--format", "json"});
  return Json::parse(ran(words, input).out);
}

using Keys = std::vector<std::string>;

/// The keys that the table "in `list`" of docs/outputs.md explains, in its order; the first table
/// of that name, the budget's.
Keys documented(const std::string& list) {
  std::ifstream page(std::string(AMPTALLY_SOURCE_DIR) + "/docs/outputs.md");
  std::string line;
  while (std::getline(page, line) && line != "| in `" + list + "` | meaning |") {
  }
  Keys keys;
  while (std::getline(page, line) && line.starts_with("|")) {
    const std::string names = line.substr(0, line.find(" |"));
    for (std::size_t at = names.find('`'); at != names.npos; at = names.find('`', at + 1)) {
      const std::size_t end = names.find('`', at + 1);
      keys.push_back(names.substr(at + 1, end - at - 1));
      at = end;
    }
  }
  return keys;
}

}  // namespace

TEST_CASE("the budget's keys are the documented ones, in order", "[cli][json]") {
  const Json budget = result({"budget", "-", "--daily"}, kRoughSite);
  CHECK(budget["schema"] == "amptally-budget/1");
  CHECK(budget["site"] == "Gijón | terrace");
  CHECK(keys_of(budget) == Keys{"schema", "program", "site", "place", "weather", "verdict", "aim",
                                "aim_met", "year", "months", "uses", "findings", "assumptions",
                                "rough_inputs", "rough", "ledger", "synthetic", "days"});
  CHECK(keys_of(budget["place"]) == Keys{"latitude_deg", "longitude_deg", "source", "distance_km"});
  CHECK(budget["weather"] == Json({{"mode", "mean"}, {"years", 1}, {"seed", 1}}));
  CHECK(keys_of(budget["aim"]) == Keys{"autonomy_days", "shortfall_days", "floor"});
  CHECK(keys_of(budget["year"]) == documented("year"));
  REQUIRE(budget["months"].size() == 12);
  CHECK(keys_of(budget["months"][0]) == documented("months"));
  CHECK(keys_of(budget["uses"][0]) == Keys{"name", "ah_day", "wh_day", "share"});
  CHECK(keys_of(budget["findings"][0]) == Keys{"level", "topic", "field", "text", "source"});
  CHECK(keys_of(budget["rough_inputs"][0]) == Keys{"field", "low", "high", "unit"});
  CHECK(keys_of(budget["ledger"]) == Keys{"charge_ah", "turned_away_ah", "charging_loss_ah",
                                          "self_discharge_ah", "served_ah", "stored_change_ah"});
  REQUIRE(budget["days"].size() == 365);
  CHECK(keys_of(budget["days"][0]) == Keys{"day", "sun_panel_kwh_m2", "charge_ah", "use_ah",
                                           "state_of_charge_min", "state_of_charge_end",
                                           "shortfall_wh"});
  CHECK_FALSE(result({"budget", "-"}).contains("days"));
}

TEST_CASE("the verdict in JSON and the exit status agree", "[cli][json]") {
  CHECK(result({"budget", "-"})["verdict"] == "holds");
  const Json small = result({"budget", "-", "--set", "panel.power=1 W"});
  CHECK(small["verdict"] == "short");
  CHECK(small["year"]["first_short_day"].is_number_integer());
  CHECK(result({"budget", "-"})["year"]["first_short_day"].is_null());
}

TEST_CASE("months, year and ledger of a budget add up to the same", "[cli][json][property]") {
  const Json budget = result({"budget", "-", "--daily"});
  double charge_ah = 0;
  double use_ah = 0;
  for (const Json& day : budget["days"]) {
    charge_ah += day["charge_ah"].get<double>();
    use_ah += day["use_ah"].get<double>();
  }
  using Catch::Matchers::WithinRel;
  CHECK_THAT(budget["year"]["charge_ah"].get<double>(), WithinRel(charge_ah, 1e-8));
  CHECK_THAT(budget["ledger"]["charge_ah"].get<double>(), WithinRel(charge_ah, 1e-8));
  CHECK_THAT(budget["year"]["use_ah"].get<double>(), WithinRel(use_ah, 1e-8));
}

TEST_CASE("where there is no figure there is null, never an infinity", "[cli][json]") {
  // Nothing drawn at all: autonomy has no end.
  const Json idle = result({"budget", "-", "--set", "loads=[]", "--set", "regulator.standby=0 A"});
  CHECK(idle["year"]["autonomy_days"].is_null());
  CHECK(idle["months"][0]["autonomy_days"].is_null());
  CHECK(idle["verdict"] == "holds");
}

TEST_CASE("CSV columns are the JSON keys, and the figures the same", "[cli][json]") {
  const Json month = result({"budget", "-"})["months"][0];
  std::istringstream csv(ran({"budget", "-", "--format", "csv"}, kSite).out);
  std::string head;
  std::string row;
  std::getline(csv, head);
  std::getline(csv, row);
  std::istringstream heads(head);
  std::istringstream cells(row);
  for (const std::string& key : keys_of(month)) {
    std::string name;
    std::string cell;
    std::getline(heads, name, ',');
    std::getline(cells, cell, ',');
    CAPTURE(key, cell);
    CHECK(name == key);
    CHECK(std::stod(cell) == month[key].get<double>());
  }
}

TEST_CASE("the other commands' keys are the documented ones", "[cli][json]") {
  const Json sun = result({"sun", "-", "--tilts"});
  CHECK(keys_of(sun) == Keys{"schema", "program", "site", "place", "tilt_deg", "azimuth_deg",
                             "months", "day_spread_share", "assumptions", "rough_inputs", "rough",
                             "tilts", "best_year", "best_worst_month"});
  CHECK(keys_of(sun["months"][0]) == Keys{"month", "sun_horizontal_kwh_m2_day",
                                          "sun_panel_kwh_m2_day", "clearness", "day_length_h",
                                          "shade_share", "day_spread_share"});
  CHECK(keys_of(sun["tilts"][0]) ==
        Keys{"tilt_deg", "year_kwh_m2", "worst_month_kwh_m2_day", "worst_month"});
  CHECK_FALSE(result({"sun", "-"}).contains("tilts"));

  const Json check = result({"check", "-"});
  CHECK(keys_of(check) ==
        Keys{"schema", "program", "file", "problems", "assumptions", "rough_inputs", "findings"});
  CHECK(check["problems"].empty());
  const Json problems = result({"check", "-"}, "{\n  \"pannel\": 3 }")["problems"];
  CHECK(keys_of(problems[0]) == Keys{"file", "line", "column", "field", "message"});

  const Json places = result({"places", "--near", "43.4,-5.8"});
  CHECK(keys_of(places["places"][0]) == Keys{"id", "name", "country", "latitude_deg",
                                             "longitude_deg", "elevation_m", "sun_mean_kwh_m2_day",
                                             "sun_horizontal_kwh_m2_day", "air_temp_c", "rain_mm",
                                             "distance_km"});
  CHECK(places["places"][0]["rain_mm"].size() == 12);

  const Json fields = result({"explain"})["fields"];
  CHECK(keys_of(fields[0]) ==
        Keys{"field", "write", "required", "default", "allowed", "meaning", "usual", "source"});
  CHECK(Json::parse(ran({"schema"}).out)["$schema"] == "http://json-schema.org/draft-07/schema#");
}
