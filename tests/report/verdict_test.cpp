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

/// Forty changeable years that fall short.
Balance short_years() {
  Balance balance = good();
  balance.weather = WeatherMode::synthetic;
  balance.years = 40;
  balance.aim.shortfall_days = 3;
  balance.shortfall_met = false;
  balance.year.shortfall_days = 6.3;
  balance.year.first_short_day = 348;
  balance.year.short_year_share = 0.9;
  balance.spread = YearSpread{};
  balance.spread->shortfall_days = {.p10 = 2, .p50 = 6, .p90 = 10.6};
  return balance;
}

std::string told(const report::Paragraph& paragraph) {
  return (paragraph.lead.words.empty() ? "" : paragraph.lead.words + ": ") + paragraph.text;
}

std::string first(const Balance& balance) { return told(report::verdicts(balance).front()); }

}  // namespace

TEST_CASE("the verdict of a system that holds says for how many days without sun", "[verdict]") {
  CHECK(first(good()) == "Holds in a mean year: 4.1 days without sun in December.");
}

TEST_CASE("the verdict tells short days within the aim", "[verdict]") {
  Balance balance = good();
  balance.aim.shortfall_days = 5;
  balance.year.shortfall_days = 2;
  balance.year.first_short_day = 355;
  CHECK(first(balance) ==
        "Holds in a mean year: 4.1 days without sun in December. Short on 2 days, first on 21 "
        "December; 5 "
        "allowed.");
}

TEST_CASE("where nothing is drawn the verdict speaks of no days without sun", "[verdict]") {
  Balance balance = good();
  balance.year.autonomy_days = std::numeric_limits<double>::infinity();
  CHECK(first(balance) == "Holds in a mean year: nothing is drawn from the battery.");
}

TEST_CASE("the verdict puts a shortfall first, with its first day", "[verdict]") {
  Balance balance = good();
  balance.shortfall_met = balance.autonomy_met = false;
  balance.year.shortfall_days = 23;
  balance.year.first_short_day = 323;
  balance.year.autonomy_days = 1.8;
  CHECK(first(balance) == "Runs short in a mean year: 23 days, first on 19 November.");
  REQUIRE(report::verdicts(balance).size() == 2);
  CHECK(report::verdicts(balance)[1].lead.words == "Too little in store");
}

TEST_CASE("the verdict says \"1 day\", not \"1 days\"", "[verdict]") {
  Balance balance = good();
  balance.shortfall_met = false;
  balance.year.shortfall_days = 1;
  balance.year.first_short_day = 1;
  CHECK(first(balance) == "Runs short in a mean year: 1 day, first on 1 January.");
}

TEST_CASE("the verdict on too little autonomy names the month and what was wanted", "[verdict]") {
  Balance balance = good();
  balance.autonomy_met = false;
  balance.year.autonomy_days = 1.8;
  CHECK(first(balance) == "Too little in store: 1.8 days without sun in December, 3 wanted.");
}

TEST_CASE("the verdict does not round a near miss into a hit", "[verdict]") {
  Balance balance = good();
  balance.autonomy_met = false;
  balance.year.autonomy_days = 2.97;
  CHECK(first(balance) == "Too little in store: 2.97 days without sun in December, 3 wanted.");
  balance = good();
  balance.floor_met = false;
  balance.months[0].deepest_discharge = 0.502;
  CHECK(first(balance) ==
        "Goes too deep in a mean year: 50.2 % taken out in January, 50 % allowed.");
}

TEST_CASE("the verdict on a floor passed names the deepest month", "[verdict]") {
  Balance balance = good();
  balance.floor_met = false;
  balance.months[0].deepest_discharge = 0.62;
  balance.months[11].deepest_discharge = 0.55;
  CHECK(first(balance) == "Goes too deep in a mean year: 62 % taken out in January, 50 % allowed.");
}

TEST_CASE("the verdict on many years tells how they differ", "[verdict]") {
  Balance balance = short_years();
  CHECK(first(balance) ==
        "Runs short in changeable weather: 6 days a year (2 to 11 in eight years of ten), mostly "
        "from 14 December; 36 of 40 years have some; 3 allowed.");
  balance.year.short_year_share = 1;
  balance.spread->shortfall_days = {.p10 = 6, .p50 = 6, .p90 = 6};
  CHECK(first(balance) ==
        "Runs short in changeable weather: 6 days a year, mostly from 14 December; every year has "
        "some; 3 allowed.");
}

TEST_CASE("the verdict does not round a mean count into its aim, nor into none", "[verdict]") {
  Balance balance = short_years();
  balance.year.shortfall_days = 3.2;
  CHECK(first(balance).find("3.2 days a year") != std::string::npos);
  balance.shortfall_met = true;
  balance.year.shortfall_days = 0.025;
  balance.year.short_year_share = 0.025;
  balance.spread->shortfall_days = {.p10 = 0, .p50 = 0, .p90 = 0};
  CHECK(first(balance) ==
        "Holds in changeable weather: 4.1 days without sun in December. Short on 0.03 days a year, "
        "mostly from 14 December; 1 of 40 years has some; 3 allowed.");
}

TEST_CASE("the verdict on fewer than ten years does not speak of one in ten", "[verdict]") {
  Balance balance = short_years();
  balance.years = 5;
  balance.year.short_year_share = 0.8;
  CHECK(first(balance) ==
        "Runs short in changeable weather: 6 days a year, mostly from 14 December; 4 of 5 years "
        "have some; 3 allowed.");
}

TEST_CASE("the verdict of a second weather does not repeat the days without sun", "[verdict]") {
  Balance balance = short_years();
  balance.autonomy_met = false;
  balance.shortfall_met = true;
  balance.year.shortfall_days = 0;
  REQUIRE(report::verdicts(balance, false).size() == 1);
  CHECK(told(report::verdicts(balance, false)[0]) ==
        "Holds in changeable weather: never short in 40 years.");
  CHECK(first(balance) == "Too little in store: 4.1 days without sun in December, 3 wanted.");
}

TEST_CASE("the verdict counts days past the floor over many years", "[verdict]") {
  Balance balance = short_years();
  balance.floor_met = false;
  balance.year.floor_days = 24;
  CHECK(told(report::verdicts(balance)[1]) ==
        "Goes too deep in changeable weather: more than 50 % taken out on 24 days a year; 3 "
        "allowed.");
}

TEST_CASE("the verdict says that a battery that ends each year lower does not recover",
          "[verdict]") {
  Balance balance = good();
  balance.sinks_share_a_year = 0.09;
  CHECK(first(balance) ==
        "Does not recover in a mean year: each year leaves the battery 9 % lower than the last.");
  CHECK(report::verdicts(balance).front().lead.tone == report::Tone::bad);
}

TEST_CASE("the verdict calls recorded weather what it is", "[verdict]") {
  Balance balance = good();
  balance.weather = WeatherMode::file;
  CHECK(first(balance) == "Holds in the weather on file: 4.1 days without sun in December.");
}

TEST_CASE("the battery's life is told no more exactly than it can be known", "[verdict]") {
  Balance balance = good();
  struct Row {
    double years;
    const char* words;
  };
  for (const Row& row : {Row{0.05, "2 months"}, Row{0.6, "7 months"}, Row{0.99, "1 year"},
                         Row{1.46, "1.5 years"}, Row{4.4, "4 years"}, Row{12.3, "12 years"}}) {
    balance.life = {.years = row.years, .worn_by_depth = true};
    REQUIRE(report::outlook(balance).size() == 1);
    CHECK(told(report::outlook(balance)[0]) == std::string("The battery lasts about ") + row.words +
                                                   ": its daily depth wears it out. Indicative "
                                                   "only.");
  }
  balance.life = {.years = 5, .worn_by_depth = false};
  CHECK(told(report::outlook(balance)[0]) ==
        "The battery lasts about 5 years: age ends it. Indicative only.");
}

TEST_CASE("the longest dull run is told where there are dull runs", "[verdict]") {
  Balance balance = short_years();
  balance.year.longest_dull_days = 17;
  REQUIRE(report::outlook(balance).size() == 2);
  CHECK(told(report::outlook(balance)[1]) ==
        "The longest dull run in 40 years: 17 days in which less came in than went out.");
  balance.year.longest_dull_days = 40 * kDaysPerYear;
  CHECK(told(report::outlook(balance)[1]) ==
        "On no day in 40 years did as much come in as went out.");
  balance.weather = WeatherMode::mean;
  CHECK(report::outlook(balance).size() == 1);
  balance.weather = WeatherMode::file;
  balance.years = 1;
  balance.year.longest_dull_days = 1;
  CHECK(told(report::outlook(balance)[1]) ==
        "The longest dull run in the year: 1 day in which less came in than went out.");
}
