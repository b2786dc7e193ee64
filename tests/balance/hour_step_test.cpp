#include "balance/hour_step.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "catch.hpp"
#include "parts/battery_taper.hpp"
#include "random_site.hpp"
#include "sites.hpp"

using namespace amptally;

// One hour of the balance on its own: whatever the battery, the sun and the loads, its books close.

namespace {

struct Hour {
  HourConstantsOf<double> bank;
  HourMarksOf<double> marks;
  StateOf<double> before;
  double offer_ah;
  AskedOf<double> asked;
};

AskedOf<double> asked_times(const AskedOf<double>& asked, double factor) {
  return {asked.all_ah * factor, asked.run_ah * factor, asked.run_share};
}

double log_between(testing::Dice& dice, double low, double high) {
  return std::exp(dice.between(std::log(low), std::log(high)));
}

FlowOf<double> lit_hour(const Hour& hour, double offer_ah, const AskedOf<double>& asked,
                        StateOf<double>& state) {
  FlowOf<double> flow =
      serve<ScalarArithmetic>(hour.bank.standby_ah, hour.marks, offer_ah, asked, state);
  charge<ScalarArithmetic>(hour.bank, flow, state);
  return flow;
}

/// Loads of 0 .. 3 A per Ah together: all hour, or for a part of it, over what flows all hour.
AskedOf<double> any_asked(testing::Dice& dice, double steady_ah, double more_a) {
  if (dice.one_of(2) == 0) return {steady_ah + more_a, 0, 0};
  const double share = dice.between(0, 1);
  return {steady_ah + share * more_a, share * (steady_ah + more_a), share};
}

/// Any hour: sizes over six orders of magnitude, batteries full, empty, colder than they were.
Hour any_hour(testing::Dice& dice) {
  const double capacity = log_between(dice, 1e-2, 1e4);
  const Battery battery{.kind = any_kind(dice),
                        .capacity_ah = capacity,
                        .rated_hours = log_between(dice, 5, 100),
                        .floor_share = 0.5};
  const double lost_share = dice.between(0, 3e-4);
  const double available = dice.one_of(20) == 0 ? 0 : capacity * dice.between(0.1, 1);
  const double cutoff = dice.one_of(2) * dice.between(0, 0.9);
  const auto rate = [&] { return dice.one_of(4) == 0 ? 0 : capacity * log_between(dice, 1e-4, 2); };
  return {.bank = {.standby_ah = rate() * 0.1,
                   .kept_share = 1 - lost_share,
                   .drift_ah = lost_share * capacity,
                   .charge_limit_ah =
                       dice.one_of(2) == 0 ? std::numeric_limits<double>::infinity() : rate(),
                   .taper = charge_taper(battery)},
          .marks = {.empty_ah = available,
                    .drawable_ah = available * (1 - cutoff),
                    .reconnect_ah = available * (1 - cutoff) * dice.between(0, 1)},
          .before = {.taken_ah = dice.one_of(10) == 0 ? 0 : capacity * dice.between(0, 1),
                     .connected = static_cast<double>(dice.one_of(2))},
          .offer_ah = rate(),
          .asked = any_asked(dice, rate(), rate())};
}

/// What an hour leaves over when its books are closed, over all that went through them.
double unbooked_share(const Hour& hour, double offer_ah, const FlowOf<double>& flow,
                      double taken_ah) {
  const double use_ah = hour.asked.all_ah + hour.bank.standby_ah;
  const double from_sun_ah = offer_ah - flow.surplus_ah;
  const double from_battery_ah = use_ah - flow.short_ah - from_sun_ah;
  const double expected =
      hour.before.taken_ah + from_battery_ah - flow.stored_ah + flow.self_discharge_ah;
  return std::abs(taken_ah - expected) / (hour.before.taken_ah + use_ah + offer_ah + 1e-30);
}

void check(const Hour& hour, double offer_ah, const FlowOf<double>& flow,
           const StateOf<double>& after) {
  const double rounding = 1e-14 * (hour.before.taken_ah + hour.asked.all_ah + offer_ah);
  const double lowest = std::max(hour.before.taken_ah, hour.marks.empty_ah);
  const bool bounded =
      flow.short_ah >= -rounding &&
      flow.short_ah <= hour.asked.all_ah + hour.bank.standby_ah + rounding &&
      flow.surplus_ah >= 0 && flow.surplus_ah <= offer_ah && flow.given_ah <= flow.surplus_ah &&
      flow.given_ah <= hour.bank.charge_limit_ah && flow.stored_ah >= 0 &&
      flow.stored_ah <= flow.given_ah &&
      flow.stored_ah <= hour.before.taken_ah + hour.asked.run_ah + rounding &&
      after.taken_ah >= 0 && after.taken_ah <= lowest + hour.bank.drift_ah + rounding &&
      (after.connected == 0 || after.connected == 1);
  CAPTURE(hour.before.taken_ah, hour.before.connected, offer_ah, hour.asked.all_ah,
          hour.bank.standby_ah, hour.marks.empty_ah, hour.marks.drawable_ah, flow.short_ah,
          flow.surplus_ah, flow.given_ah, flow.stored_ah, after.taken_ah);
  REQUIRE(bounded);
  REQUIRE(unbooked_share(hour, offer_ah, flow, after.taken_ah) < 1e-14);
}

}  // namespace

TEST_CASE("the books of every hour close, by day and by night", "[balance][property]") {
  for (std::uint64_t seed = 0; seed < testing::site_count(50000); ++seed) {
    testing::Dice dice(seed);
    const Hour hour = any_hour(dice);
    CAPTURE(seed);
    StateOf<double> lit = hour.before;
    const FlowOf<double> by_day = lit_hour(hour, hour.offer_ah, hour.asked, lit);
    check(hour, hour.offer_ah, by_day, lit);
    StateOf<double> dark = hour.before;
    const FlowOf<double> by_night =
        dark_hour<ScalarArithmetic>(hour.bank, hour.marks, hour.asked.all_ah, dark);
    check(hour, 0, by_night, dark);
    StateOf<double> nothing_offered = hour.before;
    (void)lit_hour(hour, 0, hour.asked, nothing_offered);
    REQUIRE(nothing_offered.taken_ah == dark.taken_ah);  // the short way is the same
    REQUIRE(nothing_offered.connected == dark.connected);
  }
}

TEST_CASE("more sun, or less asked, never leaves less in the battery after an hour",
          "[balance][property]") {
  for (std::uint64_t seed = 0; seed < testing::site_count(50000); ++seed) {
    testing::Dice dice(seed);
    const Hour hour = any_hour(dice);
    const auto taken_with = [&](double offer_ah, const AskedOf<double>& asked) {
      StateOf<double> state = hour.before;
      (void)lit_hour(hour, offer_ah, asked, state);
      return state.taken_ah;
    };
    CAPTURE(seed, hour.before.taken_ah, hour.offer_ah, hour.asked.all_ah);
    const double before = taken_with(hour.offer_ah, hour.asked);
    // A bank rated at less than three hours may lose a thousandth (hour_step.hpp); these have five.
    const double rounding = 1e-12 * (before + hour.offer_ah + hour.asked.all_ah);
    REQUIRE(taken_with(1.2 * hour.offer_ah, hour.asked) <= before + rounding);
    REQUIRE(taken_with(hour.offer_ah, asked_times(hour.asked, 0.8)) <= before + rounding);
  }
}

TEST_CASE("a run's lowest point in the hour is that of the sun and the run in small steps",
          "[balance][property]") {
  // A battery with room at both ends, that keeps all it is given; 3,600 steps of a second.
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    testing::Dice dice(seed);
    const AskedOf<double> asked = any_asked(dice, dice.between(0, 1), dice.between(0, 9));
    const double offer_a = dice.between(0, 9);
    const double run_s = std::round(3600 * (asked.run_share > 0 ? asked.run_share : 1));
    const double share = run_s / 3600;
    const double rest_a =
        asked.run_share > 0 ? (asked.all_ah - asked.run_ah) / (1 - asked.run_share) : asked.all_ah;
    const double run_a = asked.run_share > 0 ? asked.run_ah / asked.run_share : asked.all_ah;
    double taken_ah = 50;
    double lowest_ah = taken_ah;
    for (int second = 0; second < 3600; ++second) {
      taken_ah += ((second < run_s ? run_a : rest_a) - offer_a) / 3600;
      lowest_ah = std::max(lowest_ah, taken_ah);
    }
    StateOf<double> state{.taken_ah = 50, .connected = 1};
    const AskedOf<double> whole_seconds =
        asked.run_share > 0
            ? AskedOf<double>{run_a * share + rest_a * (1 - share), run_a * share, share}
            : asked;
    const FlowOf<double> flow =
        serve<ScalarArithmetic>(0, {100, 100, 100}, offer_a, whole_seconds, state);
    CAPTURE(seed, run_a, rest_a, offer_a, share);
    REQUIRE_THAT(flow.short_ah, Catch::Matchers::WithinAbs(0, 1e-12));
    REQUIRE_THAT(state.taken_ah, Catch::Matchers::WithinAbs(lowest_ah, 1e-9));
    REQUIRE_THAT(state.taken_ah - flow.surplus_ah, Catch::Matchers::WithinAbs(taken_ah, 1e-9));
  }
}
