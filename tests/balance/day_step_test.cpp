#include "balance/day_step.hpp"

#include <limits>

#include "catch.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;

// The rules of a day, by hand. That vectors follow them too: batch_simulation_test.cpp.

namespace {

using Scalar = ScalarArithmetic;

// 100 Ah at 12 V, loads back at a half, half of it to be used.
constexpr DayConstantsOf<double> kDesign = {.capacity_ah = 100,
                                            .above_reconnect = 0.5,
                                            .cold_reconnect_ah = -1,
                                            .floor_share = 0.5,
                                            .bank_v = 12};

// A day on which 24 Ah are used: 0 by the loads, 1 Ah an hour by standby.
DayFiguresOf<double> day_of(const DaySumsOf<double>& sums, double taken_ah) {
  const DayMarksOf<double> marks = day_marks<Scalar>(kDesign, 1);
  return end_day<Scalar>(kDesign, marks, sums, taken_ah, 0, 1);
}

}  // namespace

TEST_CASE("a day's marks are shares of what there is; where there is nothing, loads stay off",
          "[balance]") {
  const DayMarksOf<double> mild = day_marks<Scalar>(kDesign, 0.8);
  CHECK(mild.empty_ah == 80);
  CHECK(mild.reconnect_ah == 40);
  CHECK(hour_marks<Scalar>(mild, 0.75).drawable_ah == 60);
  const DayMarksOf<double> cold = day_marks<Scalar>(kDesign, 0);
  CHECK(hour_marks<Scalar>(cold, 0.75).drawable_ah == 0);
  CHECK(cold.reconnect_ah == -1);  // more than full
}

TEST_CASE("loads that nothing cuts off are served whatever the sun brings in the hour",
          "[balance]") {
  // Colder than it was emptied, so below all marks; 3 A of sun for a lamp of 1 A.
  DayConstantsOf<double> design = kDesign;
  design.above_reconnect = std::numeric_limits<double>::infinity();
  design.cold_reconnect_ah = std::numeric_limits<double>::infinity();
  for (const double factor : {0.0, 0.3}) {
    const HourMarksOf<double> marks = hour_marks<Scalar>(day_marks<Scalar>(design, factor), 0.9);
    StateOf<double> state{.taken_ah = 90, .connected = 1};
    CHECK(serve<Scalar>(0.01, marks, 0, {1, 0, 0}, state).short_ah ==
          Approx(1.01));  // a dark hour first
    const FlowOf<double> flow = serve<Scalar>(0.01, marks, 3, {1, 0, 0}, state);
    CHECK(flow.short_ah == 0);
    CHECK(flow.surplus_ah == Approx(1.99));
  }
}

TEST_CASE("a day's lowest charge may be its last, after dark", "[balance]") {
  const DayFiguresOf<double> day =
      day_of({.charge_ah = 24, .shortfall_ah = 0, .least_taken_ah = 10, .most_taken_ah = 30}, 40);
  CHECK(day.state_of_charge_min == 0.6);
  CHECK(day.state_of_charge_max == 0.9);
  CHECK(day.use_ah == 24);
}

TEST_CASE("a shortfall or a breach of the floor that is rounding does not count", "[balance]") {
  const auto with = [](double shortfall_ah, double most_taken_ah) {
    return day_of({0, shortfall_ah, 0, most_taken_ah}, 0);
  };
  CHECK(with(23e-9, 0).shortfall_ah == 0);
  CHECK(with(23e-9, 0).is_short == 0);
  CHECK(with(25e-9, 0).is_short == 1);
  CHECK(with(2, 0).shortfall_wh == 24);
  CHECK(with(0, 50 + 0.5e-7).is_below_floor == 0);
  CHECK(with(0, 50 + 2e-7).is_below_floor == 1);
}

TEST_CASE("days that bring less than is used are counted in a row", "[balance]") {
  DullDaysOf<double> dull{};
  const auto bring = [&](double charge_ah) {
    count_dull_day<Scalar>(dull, day_of({charge_ah, 0, 0, 0}, 0));
  };
  for (const double charge_ah : {20.0, 23.0, 24.0, 10.0}) bring(charge_ah);  // 24 is enough
  CHECK(dull.so_far == 1);
  CHECK(dull.longest == 2);
}

TEST_CASE("a year counts its days, and keeps its deepest and its mean discharge", "[balance]") {
  PeriodSumsOf<double> year{};
  add_day<Scalar>(year, day_of({30, 2, 10, 30}, 20));
  add_day<Scalar>(year, day_of({10, 0, 0, 60}, 20));
  CHECK(year.charge_ah == 40);
  CHECK(year.use_ah == 48);
  CHECK(year.shortfall_ah == 2);
  CHECK(year.shortfall_wh == 24);
  CHECK(year.shortfall_days == 1);
  CHECK(year.floor_days == 1);
  CHECK(year.deepest_discharge == 0.6);
  CHECK_THAT(year.mean_daily_discharge, WithinAbs((0.2 + 0.6) / 365, 1e-15));
}
