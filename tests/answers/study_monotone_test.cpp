#include <algorithm>

#include "amptally/resize.hpp"
#include "amptally/study.hpp"

#include "catch.hpp"
#include "random_site.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

const WeatherChoice kChangeable{.mode = WeatherMode::synthetic, .years = 2};

Site with_less_draw(Site site, double factor) {
  for (Load& load : site.loads) load.draw.value *= factor;
  return site;
}

/// A shortfall no larger than `before`, but for this share of it.
void check_no_worse(double after_wh, double before_wh, double slack_share) {
  CHECK(after_wh <= before_wh * (1 + slack_share) + 1e-6);
}

// The loads come back only at the reconnect level, so a little more charge can cut them off a day
// later and let them back a week later. Seen at one of 1,000 random sites: 0.03 %.
constexpr double kHysteresis_share = 0.001;

// A larger battery loses more by itself, and below freezing keeps more that cannot be had: in
// systems that are hopelessly short anyway. Seen over 1,000 random sites: at most 1.9 %.
constexpr double kLargerBattery_share = 0.02;

}  // namespace

TEST_CASE("more panel, more battery or less draw never leaves more unserved", "[study][property]") {
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    CAPTURE(seed);
    const Site site = testing::random_site(seed);
    const double hysteresis = site.regulator.cutoff ? kHysteresis_share : 1e-9;
    const Study study(site, kChangeable);
    const double before_wh = study.run(site).year.shortfall_wh;
    const auto after_wh = [&](const Site& variant) { return study.run(variant).year.shortfall_wh; };
    check_no_worse(after_wh(with_panel_power(site, 1.2 * site.panel.power_w)), before_wh,
                   hysteresis);
    check_no_worse(after_wh(with_less_draw(site, 0.85)), before_wh, hysteresis);
    check_no_worse(after_wh(with_battery_capacity(site, 1.2 * site.battery.capacity_ah)), before_wh,
                   std::max(hysteresis, kLargerBattery_share));
    compared += before_wh > 0 ? 1 : 0;
  }
  CHECK(compared > 30);  // else there was little to get worse
}

namespace {

// A larger battery leaks more, charges at a lower rate for its size and so with more loss, and in
// frost keeps more that cannot be had: more of nothing much, where the sun does not fill it anyway.
// Share of what was short before. Seen over 2,500 sites without a cutoff: at most 2.3 %.
constexpr double kLeaks_share = 0.04;

// With a cutoff it also takes more to bring the loads back: they come back after the same share of
// a larger battery. Share of the year's use. Seen over 2,500 sites: at most 3.5 %.
constexpr double kReconnects_share = 0.05;

double larger_battery_slack_wh(const Site& site, const YearBalance& before) {
  if (!site.regulator.cutoff) return kLeaks_share * before.shortfall_wh;
  return kLeaks_share * before.shortfall_wh +
         kReconnects_share * before.use_ah * site.battery.bank_voltage_v();
}

}  // namespace

TEST_CASE(
    "over sites of chance more panel, more battery or less draw leaves no more unserved in the "
    "mean year",
    "[study][property]") {
  int compared = 0;
  const std::vector<std::uint64_t> seeds = testing::seeds_to_run(1000);
  for (const std::uint64_t seed : seeds) {
    const testing::RandomSite made = testing::random_site_file(seed);
    INFO("seed " << seed << ", site:\n" << made.text);
    const Site& site = made.site;
    const std::vector<Site> variants = {
        site, with_panel_power(site, 1.2 * site.panel.power_w), with_less_draw(site, 0.85),
        with_battery_capacity(site, 1.2 * site.battery.capacity_ah)};
    const std::vector<JudgedYear> outcomes = Study(site, {}).run(variants);
    const YearBalance& before = outcomes[0].year;
    const double rounding_wh =
        1e-12 * site.battery.bank_capacity_ah() * site.battery.bank_voltage_v();
    // No hysteresis shows in a year that repeats: these two hold to rounding.
    const double most_wh = before.shortfall_wh * (1 + 1e-9) + rounding_wh;
    REQUIRE(outcomes[1].year.shortfall_wh <= most_wh);
    REQUIRE(outcomes[2].year.shortfall_wh <= most_wh);
    REQUIRE(outcomes[3].year.shortfall_wh <= most_wh + larger_battery_slack_wh(site, before));
    // What has no slack: a larger battery bridges more days without sun.
    REQUIRE(outcomes[3].year.autonomy_days >= before.autonomy_days);
    REQUIRE(outcomes[2].year.autonomy_days >= before.autonomy_days);
    compared += before.shortfall_wh > 0 ? 1 : 0;
  }
  CHECK(compared > static_cast<int>(seeds.size()) / 3);  // else there was little to get worse
}
