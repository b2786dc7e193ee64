#include "amptally/fit.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

const WeatherChoice kWeather = {.mode = WeatherMode::synthetic, .years = 10};

// Room for some more, not for much.
Site roomy_site() {
  Site site = testing::plain_site();
  site.place.latitude_deg = 43;
  site.place.sun_horizontal_kwh_m2_day = {1.7, 2.6, 3.9, 4.8, 5.7, 6.6,
                                          6.7, 5.9, 4.5, 2.8, 1.9, 1.5};
  site.panel.power_w = 60;
  site.panel.tilt_deg = 60;
  site.battery.capacity_ah = 50;
  site.loads = {testing::always(0.08, "controller")};
  return site;
}

Load pump(double minutes) {
  Load load = testing::always(2, "pump");
  load.schedule = Runs{
      {{.at_min = 390, .for_minutes = minutes / 2}, {.at_min = 1140, .for_minutes = minutes / 2}}};
  return load;
}

Site with_load(Site site, const Load& load) {
  site.loads.push_back(load);
  return site;
}

}  // namespace

TEST_CASE("fit takes a small load and refuses a large one", "[fit]") {
  const Site site = roomy_site();
  const Fit small = fit_loads(with_load(site, pump(10)), 1, kWeather);
  CHECK(small.fits);
  CHECK(small.before.holds());
  CHECK(small.before.year.use_ah < small.after.year.use_ah);
  const Fit large = fit_loads(with_load(site, pump(600)), 1, kWeather);
  CHECK_FALSE(large.fits);
  CHECK(large.room.copies == 0);
}

TEST_CASE("the room that fit leaves is exact to a minute and to a copy", "[fit][property]") {
  const Site site = roomy_site();
  const Fit fit = fit_loads(with_load(site, pump(10)), 1, kWeather);
  REQUIRE(fit.room.minutes_per_day.has_value());
  const int minutes = *fit.room.minutes_per_day;
  REQUIRE(minutes >= 10);
  REQUIRE(minutes < 1440);
  CHECK(fit_loads(with_load(site, pump(minutes)), 1, kWeather).fits);
  CHECK_FALSE(fit_loads(with_load(site, pump(minutes + 1)), 1, kWeather).fits);
  Load several = pump(10);
  several.count = fit.room.copies;
  CHECK(several.count >= 1);
  CHECK(fit_loads(with_load(site, several), 1, kWeather).fits);
  ++several.count;
  CHECK_FALSE(fit_loads(with_load(site, several), 1, kWeather).fits);
}

TEST_CASE("the room for a load that is always on is told in copies alone", "[fit]") {
  const Fit fit = fit_loads(with_load(roomy_site(), testing::always(0.005, "sensor")), 1, kWeather);
  CHECK(fit.fits);
  CHECK_FALSE(fit.room.minutes_per_day.has_value());
  CHECK(fit.room.copies > 1);
}

TEST_CASE("several loads are added together, and the room told is for the last one", "[fit]") {
  Site both = with_load(with_load(roomy_site(), testing::always(0.05, "lamp")), pump(10));
  const Fit fit = fit_loads(both, 2, kWeather);
  const Fit alone = fit_loads(with_load(roomy_site(), pump(10)), 1, kWeather);
  CHECK(fit.before.year.use_ah == alone.before.year.use_ah);
  CHECK(*fit.room.minutes_per_day < *alone.room.minutes_per_day);
}

TEST_CASE("where the aim is missed already there is no room", "[fit]") {
  Site site = roomy_site();
  site.panel.power_w = 2;
  const Fit fit = fit_loads(with_load(site, pump(10)), 1, kWeather);
  CHECK_FALSE(fit.before.holds());
  CHECK(fit.room.minutes_per_day == 0);
  CHECK(fit.room.copies == 0);
}
