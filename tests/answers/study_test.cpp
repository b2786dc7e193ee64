#include "amptally/study.hpp"

#include "amptally/error.hpp"
#include "amptally/resize.hpp"
#include "amptally/site_field.hpp"
#include "amptally/validate.hpp"

#include "catch.hpp"
#include "random_site.hpp"
#include "site/site_numbers.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

constexpr int kYears = 4;
const WeatherChoice kWeather = {.mode = WeatherMode::synthetic, .years = kYears};

void check_same(const Site& variant, const Study& study) {
  const Balance balance = simulate(variant, kWeather).balance;
  const JudgedYear outcome = study.run(variant);
  REQUIRE(outcome.met.holds() == balance.holds());
  REQUIRE(study.meets(variant) == balance.holds());
  YearBalance expected = balance.year;
  expected.battery_life_years = 0;  // a study leaves it out
  REQUIRE(outcome.year == expected);
}

// Writes the number where it may be that; a path that is not for ranges stays as it is.
bool set_within(Site& site, const SiteNumber& number, double value) {
  if (number.limits == nullptr || !number.limits->allow(value)) return false;
  try {
    set_site_field(site, number.path(), value);
    return true;
  } catch (const InputError&) {
    return false;
  }
}

}  // namespace

TEST_CASE("a variant in a study has the year it has on its own", "[study][property]") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const Site base = testing::random_site(seed);
    const Study study(base, kWeather);
    CAPTURE(seed);
    check_same(base, study);
    Site variant = with_panel_power(base, 1.7 * base.panel.power_w);
    variant.panel.losses_share = 0.2;
    variant = with_battery_capacity(variant, 0.6 * base.battery.capacity_ah);
    variant.regulator.standby.value *= 2;
    check_same(variant, study);
  }
}

TEST_CASE("whatever number a variant has another of, its year is its own", "[study][property]") {
  // One at a time, from random sites: none may be taken for one that changes no sky, offer or load.
  int tried = 0;
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    Site base = testing::random_site(seed);
    base.place.day_spread_share = 0.15;  // a site gives it now and then
    const Study study(base, kWeather);
    for_each_number(base, [&](const SiteNumber& number) {
      Site variant = base;
      variant.rough.clear();
      const double lower = number.value * 0.97;
      if (!set_within(variant, number, lower)) return;
      if (!validate(variant).empty()) return;
      CAPTURE(seed, number.path());
      check_same(variant, study);
      ++tried;
    });
  }
  CHECK(tried > 60);
}

TEST_CASE(
    "a variant with another regulator, tilt or label is worked out anew, not from the study's",
    "[study]") {
  Site base = testing::random_site(7);
  base.regulator.kind = RegulatorKind::pwm;
  const Study study(base, kWeather);
  Site other_way = base;
  other_way.regulator.kind = RegulatorKind::mppt;
  check_same(other_way, study);
  Site other_sky = base;
  other_sky.panel.tilt_deg += 11;
  check_same(other_sky, study);
  Site other_label = base;
  other_label.panel.voc_v = 38;
  check_same(other_label, study);
}

TEST_CASE("a study in mean weather says what simulate says", "[study]") {
  Site base = testing::random_site(9);
  const Study study(base, {.mode = WeatherMode::mean});
  base.panel.power_w *= 2;
  CHECK(study.run(base).year.charge_ah == simulate(base).balance.year.charge_ah);
  CHECK(study.meets(base) == simulate(base).balance.holds());
}

TEST_CASE("another panel or battery size changes currents and limits in proportion", "[study]") {
  Site site = testing::plain_site();
  site.panel.imp_a = 5;
  site.panel.isc_a = 5.5;
  site.battery.max_charge_current_a = 10;
  const Site twice = with_battery_capacity(with_panel_power(site, 200), 25);
  CHECK(twice.panel.imp_a == 10.0);
  CHECK(twice.panel.isc_a == 11.0);
  CHECK(twice.battery.max_charge_current_a == 5.0);
}
