// Systems in synthetic weather, and in years read from a file.

#include <algorithm>
#include <cmath>

#include "amptally/balance.hpp"
#include "amptally/error.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// 43 N with winters on the edge of what the panel brings.
Site winter_site() {
  Site site = testing::plain_site();
  site.place.latitude_deg = 43;
  site.place.sun_horizontal_kwh_m2_day = {1.7, 2.6, 3.9, 4.8, 5.7, 6.6,
                                          6.7, 5.9, 4.5, 2.8, 1.9, 1.5};
  site.panel.power_w = 40;
  site.panel.tilt_deg = 55;
  site.battery.capacity_ah = 18;
  site.regulator.standby.value = 0.012;
  Load pump = testing::always(2, "pump");
  pump.schedule = Runs{{{.at_min = 390, .for_minutes = 60}, {.at_min = 1140, .for_minutes = 60}}};
  site.loads = {pump};
  return site;
}

Balance synthetic(const Site& site, int years = 20, std::uint64_t seed = 1, int threads = 1) {
  return simulate(
             site,
             {.mode = WeatherMode::synthetic, .years = years, .seed = seed, .threads = threads})
      .balance;
}

bool same(const Balance& a, const Balance& b) {
  const auto equal_days = [](const DayBalance& x, const DayBalance& y) {
    return x.charge_ah == y.charge_ah && x.state_of_charge_min == y.state_of_charge_min &&
           x.shortfall_wh == y.shortfall_wh;
  };
  return a.year.shortfall_wh == b.year.shortfall_wh && a.year.charge_ah == b.year.charge_ah &&
         a.year.battery_life_years == b.year.battery_life_years &&
         std::equal(a.days.begin(), a.days.end(), b.days.begin(), equal_days);
}

// A file's worth of the mean year: the same every day of a month, hour by hour.
std::shared_ptr<WeatherSeries> series_of(const Site& site, bool hourly, int years) {
  auto series = std::make_shared<WeatherSeries>();
  series->name = "made";
  series->path = "made.csv";
  series->hourly = hourly;
  series->years = years;
  const SiteSky sky = site_sky(site.place, panel_plane(site));
  for (int y = 0; y < years; ++y) {
    for (std::size_t d = 0; d < kDaysPerYear; ++d) {
      const double sun = sky.mean_days[d].sun_horizontal_kwh_m2;
      for (std::size_t h = 0; h < (hourly ? kHoursPerDay : 1U); ++h) {
        const double share = hourly ? sky.geometry[d].hours[h].diffuse_ratio : 1;
        series->global_wh_m2.push_back(1000 * sun * share);
        series->lines.push_back(static_cast<int>(series->lines.size()) + 2);
      }
    }
  }
  return series;
}

}  // namespace

TEST_CASE("the same seed gives the same years, on any number of threads", "[balance][synthetic]") {
  const Site site = winter_site();
  const Balance once = synthetic(site, 21, 1, 1);
  CHECK(same(once, synthetic(site, 21, 1, 1)));
  CHECK(same(once, synthetic(site, 21, 1, 2)));
  CHECK(same(once, synthetic(site, 21, 1, 7)));
  CHECK_FALSE(same(once, synthetic(site, 21, 2, 1)));
}

TEST_CASE("synthetic years have shortfalls on a site whose mean year has none",
          "[balance][synthetic]") {
  const Site site = winter_site();
  const Balance mean = simulate(site).balance;
  const Balance real = synthetic(site);
  CHECK(mean.year.shortfall_days == 0);
  CHECK(real.year.shortfall_days > 0);
  CHECK(real.year.deepest_discharge > mean.year.deepest_discharge);
  CHECK(real.year.longest_dull_days > 3);
  CHECK(real.year.short_year_share > 0);
  CHECK_THAT(real.year.charge_ah, WithinRel(mean.year.charge_ah, 0.02));
}

TEST_CASE("a balance of many years has their means, spread and days",
          "[balance][synthetic][property]") {
  const Balance balance = synthetic(winter_site(), 25);
  REQUIRE(balance.spread.has_value());
  CHECK(balance.years == 25);
  for (const Spread& s : {balance.spread->shortfall_days, balance.spread->shortfall_wh,
                          balance.spread->deepest_discharge, balance.spread->served_share}) {
    CHECK(s.p10 <= s.p50);
    CHECK(s.p50 <= s.p90);
  }
  CHECK(balance.spread->shortfall_days.p10 <= balance.year.shortfall_days);
  CHECK(balance.year.shortfall_days <= balance.spread->shortfall_days.p90 + 10);
  double days = 0;
  double wh = 0;
  double charge = 0;
  for (const MonthBalance& month : balance.months) {
    days += month.shortfall_days;
    wh += month.shortfall_wh;
  }
  for (const DayBalance& day : balance.days) charge += day.charge_ah;
  CHECK_THAT(days, WithinRel(balance.year.shortfall_days, 1e-9));
  CHECK_THAT(wh, WithinRel(balance.year.shortfall_wh, 1e-9));
  CHECK_THAT(charge, WithinRel(balance.year.charge_ah, 1e-9));
  CHECK_THAT(balance.ledger.error_ah(), WithinAbs(0, 25 * 1e-9));
  CHECK(balance.ledger.charge_ah > 20 * balance.year.charge_ah);
}

TEST_CASE("a balance of a single year has no spread", "[balance]") {
  CHECK_FALSE(simulate(winter_site()).balance.spread.has_value());
  CHECK_FALSE(synthetic(winter_site(), 1).spread.has_value());
}

TEST_CASE("the books of synthetic years close", "[balance][synthetic][property]") {
  for (std::uint64_t seed = 300; seed < 330; ++seed) {
    const Site site = testing::random_site(seed);
    const Balance balance = synthetic(site, 3, seed);
    CAPTURE(seed);
    REQUIRE_THAT(balance.ledger.error_ah(), WithinAbs(0, 3e-9));
    REQUIRE(std::isfinite(balance.year.served_share));
    const bool is_worn_out = site.battery.health_share <= 0.8;
    REQUIRE((balance.year.battery_life_years > 0) == !is_worn_out);
  }
}

TEST_CASE("synthetic years may have three short days where no aim is given", "[balance]") {
  Site site = winter_site();
  CHECK(synthetic(site, 2).aim.shortfall_days == 3);
  CHECK(simulate(site).balance.aim.shortfall_days == 0);
  site.aim.shortfall_days = 12;
  CHECK(synthetic(site, 2).aim.shortfall_days == 12);
}

TEST_CASE("a file of mean days tells what the mean year tells", "[balance][file]") {
  for (const bool hourly : {false, true}) {
    for (const int years : {1, 2}) {
      Site site = winter_site();
      const auto series = series_of(site, hourly, years);
      site.place = place_of(*series, site.place);
      const Balance file = simulate(site, {.mode = WeatherMode::file, .series = series}).balance;
      const Balance mean = simulate(site).balance;
      CAPTURE(hourly, years);
      CHECK(file.years == years);
      CHECK_THAT(file.year.sun_horizontal_kwh_m2, WithinRel(mean.year.sun_horizontal_kwh_m2, 1e-6));
      // Days all alike are duller in the plane than dull and clear ones by turns.
      CHECK(file.year.sun_panel_kwh_m2 < mean.year.sun_panel_kwh_m2);
      CHECK(file.year.sun_panel_kwh_m2 > 0.92 * mean.year.sun_panel_kwh_m2);
      CHECK_THAT(site.place.sun_horizontal_kwh_m2_day[6], WithinRel(6.7, 0.002));
    }
  }
}

TEST_CASE("a year by the hour is not said to have its days' light spread roughly",
          "[balance][file]") {
  Site site = winter_site();
  site.panel.tilt_deg = 70;
  const auto is_said = [&site](const WeatherChoice& weather) {
    const auto said = simulate(site, weather).balance.assumptions;
    return std::find(said.begin(), said.end(), *plane_error(site.place, panel_plane(site))) !=
           said.end();
  };
  CHECK(is_said({}));
  CHECK(is_said({.mode = WeatherMode::synthetic, .years = 1}));
  CHECK(is_said({.mode = WeatherMode::file, .series = series_of(site, false, 1)}));
  CHECK_FALSE(is_said({.mode = WeatherMode::file, .series = series_of(site, true, 1)}));
}

TEST_CASE("direct and diffuse light are used where a file has them", "[weather][file]") {
  Site site = winter_site();
  const auto series = series_of(site, true, 1);
  const SiteSky sky = site_sky(site.place, panel_plane(site));
  series->diffuse_wh_m2 = series->global_wh_m2;  // an overcast year
  const double overcast = sun_months(sky, series_sun_year(sky, *series, 0))[5].sun_panel_kwh_m2_day;
  std::fill(series->diffuse_wh_m2.begin(), series->diffuse_wh_m2.end(),
            0.0);  // and one of beam only
  const double beam = sun_months(sky, series_sun_year(sky, *series, 0))[11].sun_panel_kwh_m2_day;
  const double sky_view = (1 + std::cos(55 * 3.14159265358979 / 180)) / 2;
  const double ground = 0.2 * (1 - std::cos(55 * 3.14159265358979 / 180)) / 2;
  CHECK_THAT(overcast, WithinRel(6.6 * (sky_view + ground), 0.001));
  CHECK(beam > 2 * 1.5);  // December's low sun on a steep panel
}

TEST_CASE("direct light square to the sun gives the beam it came from", "[weather][file]") {
  Site site = winter_site();
  const auto series = series_of(site, true, 1);
  const SiteSky sky = site_sky(site.place, panel_plane(site));
  series->diffuse_wh_m2.assign(series->global_wh_m2.size(), 0.0);
  const auto by_diffuse = series_sun_year(sky, *series, 0);
  // The hour's mean sine of the sun's height, from its extraterrestrial light.
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      const double sine = 1000 * sky.geometry[d].extraterrestrial_kwh_m2 *
                          sky.geometry[d].hours[h].diffuse_ratio /
                          (kSolarConstant_w_m2 * eccentricity_factor(static_cast<int>(d) + 1) *
                           sky.geometry[d].hours[h].lit_share);
      series->direct_wh_m2.push_back(sine > 0 ? series->global_wh_m2[d * 24 + h] / sine : 0);
    }
  }
  const auto by_direct = series_sun_year(sky, *series, 0);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    REQUIRE_THAT(by_direct.plane_kwh_m2[d], WithinRel(by_diffuse.plane_kwh_m2[d], 1e-9));
  }
}

TEST_CASE("sun from beyond the top of the air is refused by line", "[weather][file][errors]") {
  for (const bool hourly : {false, true}) {
    Site site = winter_site();
    const auto series = series_of(site, hourly, 1);
    const SiteSky sky = site_sky(site.place, panel_plane(site));
    const std::size_t noon = hourly ? 100U * 24 + 12 : 100U;
    series->global_wh_m2[noon] *= 4;
    try {
      (void)series_sun_year(sky, *series, 0);
      FAIL("accepted");
    } catch (const DataError& e) {
      CHECK(e.path() == "made.csv:" + std::to_string(noon + 2));
      CHECK(std::string(e.what()).find("top of the air") != std::string::npos);
    }
  }
}

TEST_CASE("sun is refused from a quarter above the top of the air on", "[weather][file][errors]") {
  // Bright clouds add a quarter at most (chosen); 25 Wh/m2 of twilight are let through.
  Site site = winter_site();
  const auto series = series_of(site, false, 1);
  const SiteSky sky = site_sky(site.place, panel_plane(site));
  const double top_wh_m2 = 1000 * sky.geometry[100].extraterrestrial_kwh_m2;
  series->global_wh_m2[100] = 1.25 * top_wh_m2 + 24;
  CHECK_NOTHROW(series_sun_year(sky, *series, 0));
  series->global_wh_m2[100] = 1.25 * top_wh_m2 + 26;
  CHECK_THROWS_AS(series_sun_year(sky, *series, 0), DataError);
}

TEST_CASE("a battery that ends the year lower is found to sink", "[balance]") {
  // A large battery, begun full, that loses a little every year: 5 Ah a day in, 5.5 Ah out.
  Site site = testing::plain_site();
  site.battery.capacity_ah = 2000;
  site.battery.self_discharge_pct_month = 0;
  site.loads = {testing::always(0.3)};
  const double per_watt = simulate(site).balance.year.charge_ah / site.panel.power_w;
  site.panel.power_w = 0.93 * 0.3 * 8760 / per_watt;
  const Balance balance = simulate(site).balance;
  CHECK(balance.sinks_share_a_year > 0.03);
  CHECK(balance.sinks_share_a_year < 0.12);
  site.panel.power_w *= 1.5;
  CHECK(simulate(site).balance.sinks_share_a_year == 0);
}

TEST_CASE("the first year starts at the charge that is given", "[balance]") {
  // The year that is reported is steady, so the start leaves no trace but the years it took.
  Site site = winter_site();
  site.battery.start_share = 0.1;
  const Balance low = simulate(site).balance;
  site.battery.start_share = 1;
  const Balance full = simulate(site).balance;
  CHECK_THAT(low.year.deepest_discharge, WithinAbs(full.year.deepest_discharge, 1e-9));
  CHECK(low.years_to_steady >= full.years_to_steady);
}
