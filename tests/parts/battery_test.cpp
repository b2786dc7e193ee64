#include "amptally/battery.hpp"

#include <cmath>

#include "amptally/regulator.hpp"

#include "catch.hpp"
#include "parts/battery_taper.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A bank of 100 Ah whose ten-hour current is `ten_hour_a`, as `charge_taper` makes it.
Battery bank_of_100_ah(double rated_hours) {
  return {.kind = battery_kind("flooded"),
          .capacity_ah = 100,
          .rated_hours = rated_hours,
          .floor_share = 0.5};
}

double stored_ah(const Battery& battery, double taken_ah, double given_ah) {
  return stored_of<ScalarArithmetic>(charge_taper(battery), taken_ah, given_ah);
}

}  // namespace

TEST_CASE("a step of charging equals ten thousand small steps of the same equation", "[battery]") {
  // Second method: the same differential equation in ten thousand small steps. Within 1.5 % of what
  // is stored, and 0.001 of what is given (the exponential).
  const Battery battery = bank_of_100_ah(20);
  const double i10 = ten_hour_current_a(battery);
  for (const double missing_ah : {90.0, 30.0, 5.0, 0.1}) {
    for (const double given_ah : {0.1, 2.0, 10.0, 40.0}) {
      constexpr int kSteps = 10000;
      double missing = missing_ah;
      for (int i = 0; i < kSteps; ++i) {
        missing -= given_ah / kSteps * copetti_charge_efficiency(1 - missing / 100, given_ah / i10);
      }
      const double exact_ah = missing_ah - missing;
      CAPTURE(missing_ah, given_ah, exact_ah);
      CHECK_THAT(stored_ah(battery, missing_ah, given_ah),
                 WithinAbs(exact_ah, 0.015 * exact_ah + 0.001 * std::min(given_ah, missing_ah)));
    }
  }
}

TEST_CASE("the step of charging has its least error where its constants were fitted", "[battery]") {
  // Ours: the error against the exact mean, -ln(1 - h (1 - e^-d))/d, where B and where C matter
  // most in a bank rated at ten hours; a fault of 5 % in either moves one of them by 0.4 points or
  // more.
  const Battery battery = bank_of_100_ah(10);
  const double i10 = ten_hour_current_a(battery);
  REQUIRE_THAT(i10, WithinRel(10, 1e-9));
  const auto error = [&](double missing_ah, double given_ah) {
    const double d = 20.73 / (given_ah / i10 + 0.55) * given_ah / 100;
    const double at_start = copetti_charge_efficiency(1 - missing_ah / 100, given_ah / i10);
    const double mean = -std::log(1 - at_start * (1 - std::exp(-d))) / d;
    return stored_ah(battery, missing_ah, given_ah) / (given_ah * mean) - 1;
  };
  CHECK_THAT(error(100, 177.5), WithinAbs(0.0034, 0.002));
  CHECK_THAT(error(10, 400), WithinAbs(0.0117, 0.002));
  // However fast a bank is rated, the bend takes no more than 0.164 x 4.5 of the efficiency.
  const TaperOf<double> fast = charge_taper(bank_of_100_ah(0.1));
  CHECK_THAT(fast.gain_a * fast.bend, WithinRel(0.164 * 4.5, 1e-12));
}

TEST_CASE("storing is bounded and rises with what is given and missing", "[battery][property]") {
  testing::Dice dice(3);
  for (int i = 0; i < 20000; ++i) {
    const Battery battery = bank_of_100_ah(std::pow(10, dice.between(0, 2)));
    const double slack_ah = battery.rated_hours < 3 ? 0.2 : 1e-13;
    const double missing = dice.between(0, 100);
    const double given = std::pow(10, dice.between(-7, 3));
    const double stored = stored_ah(battery, missing, given);
    CAPTURE(battery.rated_hours, missing, given, stored);
    REQUIRE(stored >= 0);
    REQUIRE(stored <= missing);
    REQUIRE(stored <= given);
    REQUIRE(stored <= stored_ah(battery, missing, given * 1.01) + slack_ah);
    REQUIRE(stored <= stored_ah(battery, std::min(100.0, missing * 1.01), given) + slack_ah);
  }
  CHECK(stored_ah(bank_of_100_ah(20), 0, 10) == 0);
  CHECK(stored_ah(bank_of_100_ah(20), 50, 0) == 0);
}

TEST_CASE("lithium keeps a fixed share of what it is given", "[battery]") {
  Battery battery = bank_of_100_ah(20);
  battery.kind = battery_kind("lifepo4");
  const double share = battery_type(battery.kind).charge_efficiency_share;
  CHECK_THAT(stored_ah(battery, 50, 10), WithinRel(10 * share, 1e-15));
  CHECK(stored_ah(battery, 1, 10) == 1);
}

TEST_CASE("a battery's kind and voltage give its cells and charging voltage", "[battery]") {
  const auto battery = [](BatteryKind kind, double volts, int series) {
    return Battery{
        .kind = kind, .voltage_v = volts, .capacity_ah = 10, .series = series, .floor_share = 0.5};
  };
  CHECK(bank_cells(battery(battery_kind("agm"), 12, 1)) == 6);
  CHECK(bank_cells(battery(battery_kind("agm"), 12, 2)) == 12);
  CHECK(bank_cells(battery(battery_kind("flooded"), 6, 2)) == 6);
  CHECK(bank_cells(battery(battery_kind("lifepo4"), 12.8, 1)) == 4);
  CHECK(bank_cells(battery(battery_kind("lifepo4"), 12, 1)) == 4);
  CHECK(bank_cells(battery(battery_kind("lifepo4"), 25.6, 1)) == 8);
  CHECK_THAT(charging_voltage_v(battery(battery_kind("agm"), 12, 1)), WithinAbs(13.2, 1e-9));
}

TEST_CASE("capacity falls with the cold, down to nothing", "[battery][property]") {
  for (const BatteryType& type : battery_types()) {
    double last = -1;
    for (double t = -60; t <= 60; t += 0.5) {
      const double f = temperature_factor(type, t);
      REQUIRE(f >= 0);
      REQUIRE(f <= 1);
      REQUIRE(f >= last);
      last = f;
    }
    CHECK(temperature_factor(type, 27) == 1);
  }
}

TEST_CASE("cutoff and reconnect become states of charge", "[regulator]") {
  Site site = testing::plain_site();
  CHECK_FALSE(load_switch(site, 1).cuts_off);
  site.regulator.cutoff = {0.4, Threshold::Unit::state_of_charge};
  CHECK_THAT(load_switch(site, 1).cutoff_share, WithinAbs(0.4, 1e-12));
  CHECK_THAT(load_switch(site, 1).reconnect_share, WithinAbs(0.6, 1e-12));
  site.regulator.reconnect = {0.55, Threshold::Unit::state_of_charge};
  CHECK(load_switch(site, 1).reconnect_share == 0.55);

  // Common practice, no source: a fifth of the charge won back, but never later than at 95 %.
  site.regulator.reconnect.reset();
  site.regulator.cutoff = {0.85, Threshold::Unit::state_of_charge};
  CHECK(load_switch(site, 1).reconnect_share == 0.95);

  site.regulator.cutoff = {11.5, Threshold::Unit::volts};
  site.regulator.reconnect = {12.6, Threshold::Unit::volts};
  CHECK_THAT(load_switch(site, 0.2).reconnect_share, WithinAbs((12.6 / 6 - 2) / 0.16, 1e-9));
}

TEST_CASE("the more is drawn, the less of the charge can be drawn", "[regulator][property]") {
  for (const BatteryType& type : battery_types()) {
    Site site = testing::plain_site();
    site.battery = {.kind = type.kind, .capacity_ah = 18, .floor_share = 0.5};
    for (const double cutoff_v : {0.0, 10.5, 11.5, 12.2, 12.9}) {
      if (cutoff_v > 0) site.regulator.cutoff = {cutoff_v, Threshold::Unit::volts};
      double before = 1;
      for (double draw_a = 0; draw_a < 50; draw_a = 1.2 * draw_a + 0.01) {
        CAPTURE(type.name, cutoff_v, draw_a);
        const double share = drawable_share(site, draw_a);
        REQUIRE(share >= 0);
        REQUIRE(share <= before);
        before = share;
      }
    }
  }
}

TEST_CASE("without a cutoff a draw can take what the battery gives at it", "[regulator]") {
  Site site = testing::plain_site();
  CHECK(drawable_share(site, 5) == rate_factor(site.battery, 5));
  site.regulator.cutoff = {0.2, Threshold::Unit::state_of_charge};
  CHECK(drawable_share(site, 0) == 0.8);
  // 36 A from 18 Ah: flat long before a fifth is left.
  site.battery.capacity_ah = 18;
  CHECK(drawable_share(site, 36) == rate_factor(site.battery, 36));
}

TEST_CASE("the voltage at a charge and the charge at a voltage are one relation",
          "[battery][property]") {
  for (const BatteryType& type : battery_types()) {
    const Battery battery{
        .kind = type.kind, .capacity_ah = 40, .parallel = 2, .series = 2, .floor_share = 0.5};
    for (const double current_a : {0.0, 0.1, 4.0, 30.0}) {
      double before_v = 0;
      for (double left = 0.02; left <= 1; left += 0.07) {
        CAPTURE(type.name, current_a, left);
        const double volts = discharging_voltage_v(battery, left, current_a);
        REQUIRE(volts > before_v);
        before_v = volts;
        REQUIRE_THAT(charge_left_at_voltage(battery, volts, current_a), WithinAbs(left, 1e-9));
      }
    }
    CHECK(charge_left_at_voltage(battery, 10, 0) == 0);
    CHECK(charge_left_at_voltage(battery, 40, 0) == 1);
  }
}

TEST_CASE("a lithium voltage is read from its resting curve", "[regulator]") {
  Site site = testing::plain_site();
  site.battery = {
      .kind = battery_kind("lifepo4"), .voltage_v = 12.8, .capacity_ah = 50, .floor_share = 0.8};
  site.regulator.cutoff = {12.8, Threshold::Unit::volts};
  CHECK_THAT(load_switch(site, 0).cutoff_share, WithinAbs(0.1, 1e-9));
}

TEST_CASE("the regulator's current limit holds, and counts what it refuses", "[regulator]") {
  Site site = testing::plain_site();
  const SunYear year = mean_sun_year(site_sky(site.place, panel_plane(site)));
  const ChargeOffer free = charge_offer(site, year);
  site.regulator.max_current_a = 2;
  const ChargeOffer held = charge_offer(site, year);
  double sum_free = 0;
  double sum_held = 0;
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    REQUIRE(held.current_a[h] <= 2);
    sum_free += free.current_a[h];
    sum_held += held.current_a[h];
  }
  CHECK(held.clipped_ah > 0);
  CHECK_THAT(sum_held + held.clipped_ah, WithinRel(sum_free, 1e-12));
}
