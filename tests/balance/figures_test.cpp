#include "balance/figures.hpp"

#include <cmath>
#include <set>
#include <string>

#include "amptally/study.hpp"

#include "balance/year_means.hpp"
#include "catch.hpp"
#include "sites.hpp"

namespace amptally::inline v0_1 {
namespace {

const WeatherChoice kTwoYears = {.mode = WeatherMode::synthetic, .years = 2};
constexpr int kSites = 40;

/// Which rows hold something else in `record` than in a record nobody has filled.
template <class Figures, class Record>
void see(std::set<std::size_t>& seen, const Figures& figures, const Record& record) {
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const double value = value_in(record, figures[i].value);
    if (!std::isnan(value) && value != value_in(Record{}, figures[i].value)) seen.insert(i);
  }
}

template <class Figures>
void check_all_seen(const std::set<std::size_t>& seen, const Figures& figures) {
  for (std::size_t i = 0; i < figures.size(); ++i) {
    INFO("row " << i << " " << figures[i].key);
    CHECK(seen.count(i) == 1);
  }
}

}  // namespace

TEST_CASE("every figure of a day, a month and a year is worked out", "[figures]") {
  std::set<std::size_t> days;
  std::set<std::size_t> months;
  std::set<std::size_t> years;
  for (std::uint64_t seed = 1; seed <= kSites; ++seed) {
    const Balance balance = simulate(testing::random_site(seed), kTwoYears).balance;
    for (const DayBalance& day : balance.days) see(days, kDayFigures, day);
    for (const MonthBalance& month : balance.months) see(months, kMonthFigures, month);
    see(years, kYearFigures, balance.year);
  }
  check_all_seen(days, kDayFigures);
  check_all_seen(months, kMonthFigures);
  check_all_seen(years, kYearFigures);
}

TEST_CASE("many designs at once have every figure of a year that needs no count of cycles",
          "[figures]") {
  std::set<std::size_t> years;
  for (std::uint64_t seed = 1; seed <= kSites; ++seed) {
    const Site site = testing::random_site(seed);
    see(years, kYearFigures, Study(site, kTwoYears).run(site).year);
  }
  for (std::size_t i = 0; i < kYearFigures.size(); ++i) {
    INFO(kYearFigures[i].key);
    CHECK((years.count(i) == 1) != kYearFigures[i].needs_cycles);
  }
}

TEST_CASE("a mean over years takes every figure whose row says so, and leaves the others",
          "[figures]") {
  YearBalance low;
  YearBalance high;
  for (const auto member : kMeans<YearBalance>) {
    low.*member = 1;
    high.*member = 4;
  }
  low.autonomy_month = high.autonomy_month = 11;
  YearBalance sum = sum_start(low);
  for (const YearBalance* year : {&low, &low, &high}) add_to_sum(sum, *year);
  const YearBalance mean = mean_of_sum(sum, 3);
  for (const Figure<YearBalance>& figure : kYearFigures) {
    CAPTURE(figure.key);
    const auto* member = std::get_if<double YearBalance::*>(&figure.value);
    if (member == nullptr || figure.over_years != OverYears::mean) continue;
    CHECK_THAT(mean.**member, Catch::Matchers::WithinRel(2.0, 1e-15));
  }
  CHECK(mean.autonomy_month == 11);
  CHECK(mean.longest_dull_days == 0);
  CHECK_FALSE(mean.first_short_day);
}

TEST_CASE("years that are each served in full are served in full", "[figures]") {
  // Regression, 28 Nov 2026: a sum of quotients made 1.0000000000000002 of it.
  for (int n = 1; n <= 1000; ++n) {
    YearBalance year;
    year.served_share = 1;
    year.shortfall_days = 3;
    YearBalance sum = sum_start(year);
    for (int i = 0; i < n; ++i) add_to_sum(sum, year);
    REQUIRE(mean_of_sum(sum, n).served_share == 1);
    REQUIRE(mean_of_sum(sum, n).shortfall_days == 3);
  }
}

TEST_CASE("figures that are told have names of their own", "[figures]") {
  const auto check = [](const auto& figures) {
    std::set<std::string_view> keys;
    for (const auto& figure : figures) {
      if (figure.key.empty()) continue;
      CAPTURE(figure.key);
      CHECK(keys.insert(figure.key).second);
    }
  };
  check(kDayFigures);
  check(kMonthFigures);
  check(kYearFigures);
}

}  // namespace amptally::inline v0_1
