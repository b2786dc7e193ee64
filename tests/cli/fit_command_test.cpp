#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "program.hpp"

using namespace amptally::test;
using nlohmann::json;

namespace {

// Large enough for some more.
std::vector<std::string> fit(std::vector<std::string> more) {
  std::vector<std::string> words = {
      "fit", "-", "--set", "battery.capacity=60 Ah", "--set", "aim.autonomy=1 day", "--years", "5"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

}  // namespace

TEST_CASE("fit says yes or no by its exit status", "[cli][fit]") {
  const Ran small = ran(fit({"--load", "valve: 300 mA, 10 min/day"}), kSite);
  CHECK(small.status == 0);
  CHECK(small.out.starts_with("Fits: valve."));
  CHECK(small.err.empty());
  const Ran large = ran(fit({"--load", "heater: 8 A, 10 h/day", "--quiet"}), kSite);
  CHECK(large.status == 1);
  CHECK(large.out.starts_with("Does not fit: heater."));
}

TEST_CASE("fit tells its room and both years to machines", "[cli][fit]") {
  const Ran run =
      ran(fit({"--load", "valve: 300 mA, 10 min/day at 06:30 Apr-Sep", "--format", "json"}), kSite);
  const json result = json::parse(run.out);
  CHECK(result["schema"] == "amptally-fit/1");
  CHECK(result["fits"] == true);
  CHECK(result["room"]["minutes_per_day"].get<int>() >= 10);
  CHECK(result["room"]["copies"].get<int>() >= 1);
  CHECK(result["weather"]["mode"] == "synthetic");
  CHECK(result["after"]["use_ah"].get<double>() > result["before"]["use_ah"].get<double>());
  CHECK(result["after"]["battery_life_years"].is_number());
  const Ran again =
      ran(fit({"--load", "valve: 300 mA, 10 min/day at 06:30 Apr-Sep", "--format", "json"}), kSite);
  CHECK(again.out == run.out);
  const Ran steady = ran(fit({"--load", "sensor: 5 mA", "--format", "json"}), kSite);
  CHECK(json::parse(steady.out)["room"]["minutes_per_day"].is_null());
}

TEST_CASE("fit as CSV has a row before and a row after", "[cli][fit]") {
  const Ran run = ran(fit({"--load", "valve: 300 mA, 10 min/day", "--format", "csv"}), kSite);
  CHECK(run.out.starts_with("loads,use_ah_day,shortfall_days,"));
  CHECK(holds(run.out, "\nbefore,"));
  CHECK(holds(run.out, "\nafter,"));
}

TEST_CASE("a wrong load has the site file's own message", "[cli][fit][errors]") {
  const Ran unit = ran(fit({"--load", "valve: 300 mAh, 10 min/day"}), kSite);
  CHECK(unit.status == 2);
  CHECK(
      holds(unit.err, "amptally: --load 'valve: 300 mAh, 10 min/day': loads[2].draw: \"300 mAh\""));
  const Ran months = ran(fit({"--load", "valve: 300 mA, 10 min/day Avr-Sep"}), kSite);
  CHECK(months.status == 2);
  CHECK(holds(months.err, "loads[2].months"));
  const Ran twice = ran(fit({"--load", "controller: 300 mA, 10 min/day"}), kSite);
  CHECK(twice.status == 2);
  CHECK(holds(twice.err, "loads[2].name"));
  const Ran form = ran(fit({"--load", "300 mA"}), kSite);
  CHECK(form.status == 2);
  CHECK(holds(form.err, "NAME: DRAW, TIME/day"));
  const Ran both =
      ran({"fit", "-", "--weather", "-", "--load", "valve: 300 mA, 10 min/day"}, kSite);
  CHECK(both.status == 2);
  CHECK(holds(both.err, "cannot both be read from standard input"));
  const Ran none = ran({"fit", "-"}, kSite);
  CHECK(none.status == 2);
  CHECK(holds(none.err, "--load"));
}
