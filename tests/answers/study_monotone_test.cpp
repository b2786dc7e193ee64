#include <algorithm>
#include <array>

#include "amptally/resize.hpp"
#include "amptally/study.hpp"

#include "catch.hpp"
#include "random_site.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

const WeatherChoice kChangeable{.mode = WeatherMode::synthetic, .years = 2};
const WeatherChoice kManyYears{.mode = WeatherMode::synthetic, .years = 20};

Site with_less_draw(Site site, double factor) {
  for (Load& load : site.loads) load.draw.value *= factor;
  return site;
}

Site with_last_load_removed(Site site) {
  if (site.loads.size() > 1) site.loads.pop_back();
  site.wiring.clear();  // one may feed it; a cable changes no balance
  site.rough.clear();   // one may be of it
  return site;
}

Site with_lower_cutoff(Site site) {
  if (!site.regulator.cutoff) return site;
  site.regulator.cutoff->value *= 0.95;
  if (site.regulator.reconnect) site.regulator.reconnect->value *= 0.95;
  return site;
}

Site with_better_health(Site site) {
  site.battery.health_share = std::min(1.0, 1.2 * site.battery.health_share);
  return site;
}

// Lithium in the warm that loses nothing by itself, without a cutoff: nothing grows with it but
// what it holds.
Site with_plain_battery(Site site) {
  site.battery.kind = battery_kind("lifepo4");
  site.battery.self_discharge_pct_month = 0;
  site.battery.peukert.reset();
  site.battery.max_charge_current_a.reset();
  site.regulator.cutoff.reset();
  site.regulator.reconnect.reset();
  site.place.air_temp_c.fill(30);
  for (Load& load : site.loads) {  // plants might ask for more than there is, in the warm
    if (std::holds_alternative<FromWater>(load.schedule)) load.schedule = PerDay{.minutes = 20};
  }
  site.rough.clear();
  return site;
}

// What of the shortfall, and of the use, may come on top where a larger battery, or loads that come
// back later, cost something; 0 but for that.
struct Allowed {
  double of_shortfall = 0;
  double of_use = 0;
  double wh = 0;
};

// Why a larger battery can leave more unserved, in systems that are short most of the year anyway:
// it loses more by itself, charges at a lower rate for its size and so with more loss, and in frost
// keeps more that cannot be had. Seen over 10,000 sites: at most 2.3 % of what was short.
constexpr Allowed kLargerBattery{.of_shortfall = 0.04};

// What it loses more by itself in a year, at most.
double leaks_more_wh(const Site& site) {
  const Battery& battery = site.battery;
  const double pct_month = battery.self_discharge_pct_month.value_or(
      battery_type(battery.kind).self_discharge_pct_month);
  return 0.2 * 12 * pct_month / 100 * battery.bank_capacity_ah() * battery.bank_voltage_v();
}

// With a cutoff, loads come back only at a share of the charge: a little more of it can cut them
// off a day later and let them back a week later, and a larger battery takes more to get there.
// Seen over 10,000 sites: at most 3.5 % of the use.
constexpr Allowed kComesBackLater{.of_shortfall = 0.04, .of_use = 0.05};

// The same where the loads hold on longer: they are then off for longer. Seen over 10,000 sites: at
// most 12 % of the use, at one.
constexpr Allowed kHoldsOnLonger{.of_shortfall = 0.04, .of_use = 0.15};

void check_no_more_unserved(const char* what, const Site& site, const JudgedYear& after,
                            const JudgedYear& before, const Allowed& allowed) {
  const double bank_wh = site.battery.bank_capacity_ah() * site.battery.bank_voltage_v();
  const double use_wh = before.year.use_ah * site.battery.bank_voltage_v();
  CAPTURE(what, before.year.use_ah);
  REQUIRE(after.year.shortfall_wh <= before.year.shortfall_wh * (1 + allowed.of_shortfall + 1e-9) +
                                         allowed.of_use * use_wh + allowed.wh + 1e-12 * bank_wh);
}

void check_no_more_short_days(const char* what, const JudgedYear& after, const JudgedYear& before) {
  CAPTURE(what);
  REQUIRE(after.year.shortfall_days <= before.year.shortfall_days);
}

constexpr std::array kChanges = {"panel", "draw", "load removed", "battery", "health", "cutoff"};

// The site, and with each of the changes.
std::vector<Site> with_changes(const Site& site) {
  return {site,
          with_panel_power(site, 1.2 * site.panel.power_w),
          with_less_draw(site, 0.85),
          with_last_load_removed(site),
          with_battery_capacity(site, 1.2 * site.battery.capacity_ah),
          with_better_health(site),
          with_lower_cutoff(site)};
}

// Days are not counted but with more panel: a pump too strong for the battery is served more by a
// smaller draw or a larger battery, and what it takes can be what a later day lacks.
void check_changes(const Site& site, const std::vector<JudgedYear>& outcomes) {
  const JudgedYear& before = outcomes[0];
  for (std::size_t i = 0; i < kChanges.size(); ++i) {
    const bool is_battery = i == 3 || i == 4;
    const bool is_cutoff = i == 5;
    Allowed allowed = site.regulator.cutoff ? kComesBackLater
                      : is_battery          ? kLargerBattery
                                            : Allowed{};
    if (is_cutoff && site.regulator.cutoff) allowed = kHoldsOnLonger;
    if (is_battery) allowed.wh = leaks_more_wh(site);
    check_no_more_unserved(kChanges[i], site, outcomes[i + 1], before, allowed);
    // Nothing but the sun leaves the days bridged as they were or makes them fewer.
    if (i == 0) continue;
    CAPTURE(kChanges[i]);
    REQUIRE(outcomes[i + 1].year.autonomy_days >= before.year.autonomy_days * (1 - 1e-9));
  }
  if (!site.regulator.cutoff) check_no_more_short_days(kChanges[0], outcomes[1], before);
}

// A battery that gives all it has at whatever draw: no slack for anything.
void check_changes_exactly(const Site& site, const std::vector<JudgedYear>& outcomes) {
  for (std::size_t i = 0; i < kChanges.size(); ++i) {
    check_no_more_unserved(kChanges[i], site, outcomes[i + 1], outcomes[0], {});
    check_no_more_short_days(kChanges[i], outcomes[i + 1], outcomes[0]);
  }
}

// A clock of 1 mA beside the loads, in a year that repeats: what it lacks, or takes from them, is
// what it draws and what charging loses of that (lithium gives 99 % back).
void check_one_milliamp(const Site& site) {
  Site with_clock = site;
  with_clock.loads.push_back(testing::always(0.001, "clock of the test"));
  const Study study(site, {});
  const YearBalance before = study.run(site).year;
  const YearBalance after = study.run(with_clock).year;
  // One that sinks from year to year can take longer to empty than years are repeated.
  if (before.charge_ah < after.use_ah) return;
  const double bank_v = site.battery.bank_voltage_v();
  const double clock_wh = 0.001 * kHoursPerYear * bank_v;
  const double rounding_wh = 1e-9 * (before.use_ah + site.battery.bank_capacity_ah()) * bank_v;
  REQUIRE(after.shortfall_wh <= before.shortfall_wh + clock_wh / 0.99 * 1.001 + rounding_wh);
  REQUIRE(after.shortfall_wh >= before.shortfall_wh - rounding_wh);
}

/// @return whether there was anything to get worse
bool check_site(const Site& site, const WeatherChoice& weather) {
  const std::vector<JudgedYear> outcomes = Study(site, weather).run(with_changes(site));
  check_changes(site, outcomes);
  const Site plain = with_plain_battery(site);
  check_changes_exactly(plain, Study(plain, weather).run(with_changes(plain)));
  return outcomes[0].year.shortfall_wh > 0;
}

}  // namespace

TEST_CASE(
    "over sites of chance more panel, battery or health, a lower cutoff, a smaller draw or a load "
    "less leaves no more unserved",
    "[study][property]") {
  int compared = 0;
  const std::vector<std::uint64_t> seeds = testing::seeds_to_run(10000);
  for (const std::uint64_t seed : seeds) {
    const testing::RandomSite made = testing::random_site_file(seed);
    INFO("seed " << seed << ", site:\n" << made.text);
    compared += check_site(made.site, {}) ? 1 : 0;
    if (seed % 8 == 0) check_one_milliamp(with_plain_battery(made.site));
    if (seed % 8 == 0) check_site(made.site, kChangeable);
    if (seed % 64 == 0) check_site(made.site, kManyYears);
  }
  CHECK(compared > static_cast<int>(seeds.size()) / 3);  // else there was little to get worse
}
