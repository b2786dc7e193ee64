#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include <fmt/format.h>

#include "amptally/balance.hpp"
#include "amptally/battery.hpp"
#include "amptally/error.hpp"
#include "amptally/resize.hpp"
#include "amptally/study.hpp"
#include "amptally/water.hpp"

#include "catch.hpp"
#include "random_site.hpp"

// What is true of any site's year, whatever its figures. A site is judged in plain code that says
// all that is wrong with it: a check for each of 10,000 x 365 days would take Catch minutes.

using namespace amptally;

namespace {

// Sums of 8,760 figures, in two steps: a few hundred roundings of 1.1e-16 each.
constexpr double kRounding = 1e-12;

/// Gathers what is not as it must be.
class Faults {
 public:
  void no_less(std::string_view what, double value, double low) {
    if (!(value >= low)) add(what, value, fmt::format("below {:.17g}", low));
  }
  void within(std::string_view what, double value, double low, double high) {
    if (!(value >= low && value <= high)) {
      add(what, value, fmt::format("not in {:.17g}..{:.17g}", low, high));
    }
  }
  void equal(std::string_view what, double value, double expected, double tolerance) {
    if (!(std::abs(value - expected) <= tolerance)) {
      add(what, value, fmt::format("not {:.17g} to {:.3g}", expected, tolerance));
    }
  }
  void that(std::string_view what, bool holds) {
    if (!holds) text_ += fmt::format("{}\n", what);
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  void add(std::string_view what, double value, const std::string& why) {
    if (text_.size() < 2000) text_ += fmt::format("{}: {:.17g} is {}\n", what, value, why);
  }
  std::string text_;
};

void check_ledger(Faults& faults, const Site& site, const Balance& balance) {
  const Ledger& books = balance.ledger;
  const double scale =
      books.charge_ah + balance.year.use_ah + site.battery.bank_capacity_ah() + 1e-9;
  faults.equal("what the books leave over", books.error_ah(), 0, kRounding * scale);
  for (const double column : {books.charge_ah, books.turned_away_ah, books.charging_loss_ah,
                              books.self_discharge_ah, books.served_ah}) {
    faults.no_less("a column of the books", column, -kRounding * scale);
  }
  double short_ah = 0;
  for (const DayBalance& day : balance.days) short_ah += day.shortfall_ah;
  // A shortfall below a billionth of a day's use counts as none.
  faults.equal("served and short", books.served_ah + short_ah, balance.year.use_ah, 1e-9 * scale);
  faults.equal("charge in the books", books.charge_ah, balance.year.charge_ah, kRounding * scale);
}

// The charge there was at the end of a day, reckoned back from its share; unset where the share
// was held at 0.
double stored_ah(const Site& site, const Simulation& sim, std::size_t d) {
  const double available_ah =
      site.battery.bank_capacity_ah() *
      temperature_factor(battery_type(site.battery.kind), sim.sun.days[d].air_temp_c);
  const double share = sim.balance.days[d].state_of_charge_end;
  return share > 0 ? -available_ah * (1 - share) : std::nan("");
}

// On no day is more stored than came in, nor less than went out, leaked or was lost.
void check_days_books(Faults& faults, const Site& site, const Simulation& sim) {
  const double scale = site.battery.bank_capacity_ah();
  for (std::size_t d = 1; d < sim.balance.days.size(); ++d) {
    const DayBalance& day = sim.balance.days[d];
    const double change = stored_ah(site, sim, d) - stored_ah(site, sim, d - 1);
    if (std::isnan(change)) continue;
    const double served = day.use_ah - day.shortfall_ah;
    const double left = day.charge_ah - served - change;  // turned away, lost, leaked
    if (left >= -1e-9 * (scale + day.charge_ah + day.use_ah)) continue;
    faults.no_less(fmt::format("day {}: charge less what was served and stored", d + 1), left, 0);
  }
}

// @param scale_ah  what roundings are a share of: charge is reckoned from a full battery
void check_days(Faults& faults, const Balance& balance, double scale_ah) {
  for (std::size_t d = 0; d < balance.days.size(); ++d) {
    const DayBalance& day = balance.days[d];
    const auto named = [&](std::string_view what) {
      return fmt::format("day {}: {}", d + 1, what);
    };
    // Means of several years round.
    const double above = balance.years > 1 ? 1e-14 : 0;
    const bool ordered = 0 <= day.state_of_charge_min &&
                         day.state_of_charge_min <= day.state_of_charge_end + above &&
                         day.state_of_charge_end <= day.state_of_charge_max + above &&
                         day.state_of_charge_max <= 1;
    faults.that(ordered ? "" : named("states of charge out of order"), ordered);
    const bool energies = day.charge_ah >= 0 && day.use_ah >= 0 && day.shortfall_ah >= 0 &&
                          day.shortfall_ah <= day.use_ah + kRounding * (day.use_ah + scale_ah) &&
                          day.sun_horizontal_kwh_m2 >= 0 && day.sun_panel_kwh_m2 >= 0 &&
                          std::isfinite(day.charge_ah) && std::isfinite(day.use_ah);
    faults.that(energies ? "" : named("an energy out of bounds"), energies);
  }
}

void check_months(Faults& faults, const Balance& balance) {
  std::array<MonthBalance, 12> sums{};
  std::array<int, 12> short_days{};
  for (std::size_t d = 0; d < balance.days.size(); ++d) {
    const DayBalance& day = balance.days[d];
    const auto m = static_cast<std::size_t>(month_of_day(static_cast<int>(d) + 1));
    sums[m].charge_ah_day += day.charge_ah;
    sums[m].use_ah_day += day.use_ah;
    sums[m].shortfall_wh += day.shortfall_wh;
    sums[m].deepest_discharge = std::max(sums[m].deepest_discharge, 1 - day.state_of_charge_min);
    short_days[m] += day.shortfall_wh > 0 ? 1 : 0;
  }
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthBalance& month = balance.months[m];
    const double days = days_in_month(static_cast<int>(m));
    const auto named = [&](std::string_view what) {
      return fmt::format("{}: {}", kMonthNames[m], what);
    };
    faults.equal(named("charge"), month.charge_ah_day * days, sums[m].charge_ah_day,
                 kRounding * sums[m].charge_ah_day);
    faults.equal(named("use"), month.use_ah_day * days, sums[m].use_ah_day,
                 kRounding * sums[m].use_ah_day);
    faults.equal(named("shortfall"), month.shortfall_wh, sums[m].shortfall_wh,
                 kRounding * sums[m].shortfall_wh);
    faults.equal(named("days short"), month.shortfall_days, short_days[m], 0);
    faults.equal(named("deepest discharge"), month.deepest_discharge, sums[m].deepest_discharge, 0);
    faults.within(named("days below the floor"), month.floor_days, 0, days);
    faults.no_less(named("autonomy"), month.autonomy_days, 0);
  }
}

// Of one year or of a mean of several.
// @param scale_ah  as in `check_days`
void check_bounds(Faults& faults, const YearBalance& year, double scale_ah) {
  faults.within("deepest discharge", year.deepest_discharge, 0, 1);
  faults.within("mean daily discharge", year.mean_daily_discharge, 0, year.deepest_discharge);
  const double round_share = kRounding * (1 + (year.use_ah > 0 ? scale_ah / year.use_ah : 0));
  faults.within("served share", year.served_share, -round_share, 1);
  faults.within("standby share", year.standby_share(), 0, 1 + kRounding);
  faults.within("share of short years", year.short_year_share, 0, 1);
  faults.within("days short", year.shortfall_days, 0, kDaysPerYear);
  faults.within("dull days", year.longest_dull_days, 0, 3 * kDaysPerYear);
  faults.within("battery life", year.battery_life_years, 0, 1000);
}

// @param scale_ah  as in `check_days`
void check_year(Faults& faults, const Balance& balance, double scale_ah) {
  const YearBalance& year = balance.year;
  MonthBalance sum;
  double autonomy_days = balance.months[0].autonomy_days;
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthBalance& month = balance.months[m];
    const double days = days_in_month(static_cast<int>(m));
    sum.charge_ah_day += days * month.charge_ah_day;
    sum.use_ah_day += days * month.use_ah_day;
    sum.shortfall_wh += month.shortfall_wh;
    sum.shortfall_days += month.shortfall_days;
    sum.floor_days += month.floor_days;
    sum.deepest_discharge = std::max(sum.deepest_discharge, month.deepest_discharge);
    autonomy_days = std::min(autonomy_days, month.autonomy_days);
  }
  faults.equal("year's charge", sum.charge_ah_day, year.charge_ah, kRounding * year.charge_ah);
  faults.equal("year's use", sum.use_ah_day, year.use_ah, kRounding * year.use_ah);
  faults.equal("year's shortfall", sum.shortfall_wh, year.shortfall_wh,
               kRounding * year.shortfall_wh);
  faults.equal("year's days short", sum.shortfall_days, year.shortfall_days, 0);
  faults.equal("year's days below the floor", sum.floor_days, year.floor_days, 0);
  faults.equal("year's deepest", sum.deepest_discharge, year.deepest_discharge, 0);
  faults.that("the year's autonomy is the lowest month's", autonomy_days == year.autonomy_days);
  check_bounds(faults, year, scale_ah);
  faults.that("a first short day if, and only if, a day is short",
              year.first_short_day.has_value() == (year.shortfall_days > 0));
  faults.that("endless autonomy only without use",
              std::isinf(year.autonomy_days) == (year.use_ah == 0));
}

void check_uses(Faults& faults, const Balance& balance) {
  double ah_day = 0;
  double share = 0;
  for (const Use& use : balance.uses) {
    faults.no_less(use.name, use.ah_day, 0);
    ah_day += use.ah_day;
    share += use.share;
  }
  faults.equal("uses", ah_day * kDaysPerYear, balance.year.use_ah, kRounding * balance.year.use_ah);
  faults.equal("shares of use", share, balance.year.use_ah > 0 ? 1 : 0, kRounding);
}

void check_sun(Faults& faults, const Site& site, const Simulation& sim) {
  for (std::size_t m = 0; m < 12; ++m) {
    const double given = site.place.sun_horizontal_kwh_m2_day[m];
    const double top =
        extraterrestrial_month_kwh_m2_day(site.place.latitude_deg, static_cast<int>(m));
    faults.equal(fmt::format("sun of {}", kMonthNames[m]),
                 sim.balance.months[m].sun_horizontal_kwh_m2_day, std::min(given, top),
                 1e-3 * given + 1e-12);
  }
  const double limit_a =
      site.regulator.max_current_a.value_or(std::numeric_limits<double>::infinity());
  const auto [least, most] =
      std::minmax_element(sim.offer.current_a.begin(), sim.offer.current_a.end());
  faults.within("least current offered", *least, 0, limit_a);
  faults.within("most current offered", *most, 0, limit_a);
  faults.no_less("clipped", sim.offer.clipped_ah, 0);
  const auto [darkest, brightest] =
      std::minmax_element(sim.sun.plane_w_m2.begin(), sim.sun.plane_w_m2.end());
  faults.no_less("darkest hour", *darkest, 0);
  // Nothing concentrates light: beam and sky are below the solar constant at the sun's nearest, and
  // the ground sends up at most its share of the same.
  faults.within("brightest hour", *brightest, 0,
                1.035 * kSolarConstant_w_m2 * (1 + site.place.albedo));
}

void check_line(Faults& faults, const LineStudy& line) {
  if (line.flow) {
    faults.within(line.name + ": flow", line.flow->flow_l_h, 0, 1e6);
    faults.no_less(line.name + ": tube loss", line.flow->tube_loss_m, 0);
    const double spent_m = line.flow->lift_m + line.flow->tube_loss_m + line.flow->entrance_loss_m +
                           line.flow->last_outlet_m;
    if (line.flow->outlets_l_h.size() > 1) {
      faults.equal(line.name + ": head", line.flow->head_m, spent_m, 1e-6 * (1 + spent_m));
    }
    for (const double outlet_l_h : line.flow->outlets_l_h) {
      faults.within(line.name + ": outlet", outlet_l_h, 0, line.flow->flow_l_h * (1 + 1e-9));
    }
  }
  for (std::size_t m = 0; m < 12; ++m) {
    if (line.minutes_day) faults.within(line.name + ": minutes", (*line.minutes_day)[m], 0, 1e9);
    if (line.use_ah_day) faults.within(line.name + ": use", (*line.use_ah_day)[m], 0, 1e9);
  }
  if (line.siphon) faults.within(line.name + ": siphon", line.siphon->flow_l_h, 0, 1e6);
  if (line.siphon) faults.within(line.name + ": night", line.siphon->night_l, 0, 1e6);
}

void check_tank(Faults& faults, const TankStudy& tank) {
  const double in_l = tank.catch_l + tank.refill_l;
  faults.within("usable water", tank.usable_l, 0, 1e6);
  faults.within("dry days", tank.dry_days, 0, kDaysPerYear);
  for (std::size_t m = 0; m < 12; ++m) {
    faults.within("lowest content", tank.lowest_l[m], 0, tank.usable_l * (1 + kRounding));
    faults.within("dry days of a month", tank.dry_days_month[m], 0,
                  days_in_month(static_cast<int>(m)));
  }
  faults.no_less("overflow", tank.overflow_l, 0);
  faults.no_less("siphoned", tank.siphon_l, 0);
  for (const auto& days : tank.filling_days) faults.no_less("filling", days.value_or(0), 0);
  if (tank.is_filled_by_hand) return;
  // What came in is used, runs over, or is still there: never more than the tank holds apart.
  faults.within("water in less water out", in_l - tank.use_l - tank.siphon_l - tank.overflow_l,
                -tank.usable_l - 1e-9 * in_l, tank.usable_l + 1e-9 * in_l);
}

void check_water(Faults& faults, const Site& site) {
  WaterStudy study;
  try {
    study = study_water(site);
  } catch (const ModelError&) {  // a line that cannot lift its water, and says so
    return;
  }
  for (const LineStudy& line : study.lines) check_line(faults, line);
  if (study.tank) check_tank(faults, *study.tank);
}

std::string faults_of(const Site& site) {
  const Simulation sim = simulate(site);
  Faults faults;
  check_ledger(faults, site, sim.balance);
  check_days_books(faults, site, sim);
  check_days(faults, sim.balance, site.battery.bank_capacity_ah());
  check_months(faults, sim.balance);
  check_year(faults, sim.balance, site.battery.bank_capacity_ah());
  check_uses(faults, sim.balance);
  check_sun(faults, site, sim);
  if (site.water) check_water(faults, site);
  return faults.text();
}

std::string faults_in_changeable_weather(const Site& site) {
  const WeatherChoice weather{.mode = WeatherMode::synthetic, .years = 3};
  const Balance balance = simulate(site, weather).balance;
  const double scale_ah = site.battery.bank_capacity_ah();
  Faults faults;
  check_days(faults, balance, scale_ah);
  check_bounds(faults, balance.year, scale_ah);
  check_uses(faults, balance);
  // Beside another design, as in a sweep.
  const Site half = with_panel_power(site, 0.5 * site.panel.power_w);
  for (const JudgedYear& outcome : Study(site, weather).run(std::vector<Site>{site, half})) {
    check_bounds(faults, outcome.year, scale_ah);
  }
  return faults.text();
}

}  // namespace

TEST_CASE("the books of sites of chance close, and no figure leaves its bounds",
          "[balance][property]") {
  for (const std::uint64_t seed : testing::seeds_to_run(10000)) {
    const testing::RandomSite made = testing::random_site_file(seed);
    INFO("seed " << seed << ", site:\n" << made.text);
    REQUIRE(faults_of(made.site) == "");
    if (seed % 4 == 0) REQUIRE(faults_in_changeable_weather(made.site) == "");
  }
}
