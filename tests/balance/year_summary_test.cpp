#include "balance/year_summary.hpp"

#include <vector>

#include "catch.hpp"

namespace amptally::inline v0_1 {
namespace {

// A year with days, from 1, that are short in `years` years.
std::vector<int> year_with(std::initializer_list<int> days, int years = 10) {
  std::vector<int> short_years(365, 0);
  for (const int day : days) short_years[static_cast<std::size_t>(day - 1)] = years;
  return short_years;
}

// No source: days counted by hand.
TEST_CASE("the short season begins after the longest run of good days, across New Year too",
          "[year_summary]") {
  CHECK_FALSE(first_short_day(year_with({})));
  CHECK(first_short_day(year_with({200})) == 200);
  CHECK(first_short_day(year_with({300, 310, 20})) == 300);      // good from 21 to 299
  CHECK(first_short_day(year_with({100, 110, 250})) == 100);     // 251 to 99: 214 days
  CHECK(first_short_day(year_with({10, 20, 340, 350})) == 340);  // 21 to 339
  CHECK(first_short_day(year_with({1, 365})) == 365);            // 2 to 364
  CHECK(first_short_day(std::vector<int>(365, 3)) == 1);         // none is good
}

TEST_CASE("a day counts as often short from half as many years as the worst day's",
          "[year_summary]") {
  // The day after the longest good run; short in 10 of the worst day's 21 years is still good, in
  // 11 it is not.
  std::vector<int> short_years(kDaysPerYear, 0);
  short_years[300] = 21;
  short_years[200] = 10;
  CHECK(first_short_day(short_years) == 301);
  short_years[200] = 11;
  CHECK(first_short_day(short_years) == 201);
}

}  // namespace
}  // namespace amptally::inline v0_1
