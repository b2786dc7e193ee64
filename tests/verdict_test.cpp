#include "report/verdict.hpp"

#include <limits>

#include "catch.hpp"

using namespace amptally;

namespace {

/// A year that holds: 4.1 days in December.
Balance good() {
  Balance balance;
  balance.aim = {.autonomy_days = 3, .shortfall_days = 0, .floor_share = 0.5};
  balance.autonomy_met = balance.shortfall_met = balance.floor_met = true;
  balance.year.autonomy_days = 4.1;
  balance.year.autonomy_month = 11;
  return balance;
}

std::string first(const Balance& balance) {
  const report::Paragraph verdict = report::verdicts(balance).front();
  return verdict.lead.words + ": " + verdict.text;
}

}  // namespace

TEST_CASE("a system that holds says for how long", "[verdict]") {
  CHECK(first(good()) == "Holds: 4.1 days without sun in December.");
}

TEST_CASE("short days within the aim are still told", "[verdict]") {
  Balance balance = good();
  balance.aim.shortfall_days = 5;
  balance.year.shortfall_days = 2;
  balance.year.first_short_day = 355;
  CHECK(first(balance) ==
        "Holds: 4.1 days without sun in December. Short on 2 days a year, first on 21 December; 5 "
        "allowed.");
}

TEST_CASE("nothing drawn is nothing to run out", "[verdict]") {
  Balance balance = good();
  balance.year.autonomy_days = std::numeric_limits<double>::infinity();
  CHECK(first(balance) == "Holds: nothing is drawn from the battery.");
}

TEST_CASE("a shortfall comes first, with its first day", "[verdict]") {
  Balance balance = good();
  balance.shortfall_met = balance.autonomy_met = false;
  balance.year.shortfall_days = 23;
  balance.year.first_short_day = 323;
  balance.year.autonomy_days = 1.8;
  CHECK(first(balance) == "Runs short: 23 days a year, first on 19 November.");
  REQUIRE(report::verdicts(balance).size() == 2);
  CHECK(report::verdicts(balance)[1].lead.words == "Too thin");
}

TEST_CASE("one day is not days", "[verdict]") {
  Balance balance = good();
  balance.shortfall_met = false;
  balance.year.shortfall_days = 1;
  balance.year.first_short_day = 1;
  CHECK(first(balance) == "Runs short: 1 day a year, first on 1 January.");
}

TEST_CASE("too little autonomy names the month and what was wanted", "[verdict]") {
  Balance balance = good();
  balance.autonomy_met = false;
  balance.year.autonomy_days = 1.8;
  CHECK(first(balance) == "Too thin: 1.8 days without sun in December, 3 wanted.");
}

TEST_CASE("a near miss is not rounded into a hit", "[verdict]") {
  Balance balance = good();
  balance.autonomy_met = false;
  balance.year.autonomy_days = 2.97;
  CHECK(first(balance) == "Too thin: 2.97 days without sun in December, 3 wanted.");
  balance = good();
  balance.floor_met = false;
  balance.months[0].deepest_discharge = 0.502;
  CHECK(first(balance) == "Goes too deep: 50.2 % taken out in January, 50 % allowed.");
}

TEST_CASE("a floor passed names the deepest month", "[verdict]") {
  Balance balance = good();
  balance.floor_met = false;
  balance.months[0].deepest_discharge = 0.62;
  balance.months[11].deepest_discharge = 0.55;
  CHECK(first(balance) == "Goes too deep: 62 % taken out in January, 50 % allowed.");
}
