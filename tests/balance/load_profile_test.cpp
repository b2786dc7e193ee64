#include "amptally/load_profile.hpp"

#include <numeric>

#include "amptally/error.hpp"
#include "amptally/weather.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

LoadProfile profile_of(const Load& load, double latitude_deg = 0) {
  Site site = testing::plain_site();
  site.place.latitude_deg = latitude_deg;
  site.loads = {load};
  return load_profile(site, year_geometry(site.place, panel_plane(site)));
}

double sum(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

}  // namespace

TEST_CASE("a load that is always on takes its draw every hour", "[load]") {
  const LoadProfile profile = profile_of(testing::always(0.5));
  for (const double ah : profile.asked_ah) REQUIRE_THAT(ah, WithinAbs(0.5, 1e-12));
  CHECK_THAT(profile.load_ah[0], WithinRel(0.5 * kHoursPerYear, 1e-12));
}

TEST_CASE("a load's watts become amps at the bank's voltage", "[load]") {
  Load load = testing::always(0);
  load.draw = {24, Draw::Unit::watts};
  CHECK_THAT(profile_of(load).asked_ah[0], WithinAbs(2, 1e-12));
}

TEST_CASE("a load's run falls into the clock hours it covers", "[load]") {
  Load load = testing::always(1);
  load.schedule = Runs{{{.at_min = 6 * 60 + 50, .for_minutes = 25}}};
  const LoadProfile profile = profile_of(load);
  CHECK_THAT(profile.asked_ah[6], WithinAbs(10 / 60.0, 1e-12));
  CHECK_THAT(profile.asked_ah[7], WithinAbs(15 / 60.0, 1e-12));
  CHECK_THAT(sum(profile.asked_ah), WithinRel(365 * 25 / 60.0, 1e-12));
  // However short it runs, its whole current flows.
  CHECK(profile.draws_a[profile.draw_of_hour[7]] == 1);
  CHECK(profile.draws_a[profile.draw_of_hour[8]] == 0);
  CHECK(profile.draws_a.size() == 2);
  CHECK(largest_draw_a(profile) == 1);
}

TEST_CASE("a load's run may pass midnight and New Year", "[load]") {
  Load load = testing::always(1);
  load.schedule = Runs{{{.at_min = 23 * 60 + 30, .for_minutes = 60}}};
  const LoadProfile profile = profile_of(load);
  CHECK_THAT(profile.asked_ah[0], WithinAbs(0.5, 1e-12));
  CHECK_THAT(profile.asked_ah[23], WithinAbs(0.5, 1e-12));
  CHECK_THAT(sum(profile.asked_ah), WithinRel(365.0, 1e-12));
}

TEST_CASE("a load of every n days or some months leaves out the other days", "[load]") {
  Load load = testing::always(1);
  load.every_days = 3;
  const LoadProfile profile = profile_of(load);
  CHECK(profile.asked_ah[0] == 1);
  CHECK(profile.asked_ah[24] == 0);
  CHECK(profile.asked_ah[3 * 24] == 1);
  load.every_days = 1;
  load.months = MonthSet(1U << 1U);  // February
  CHECK_THAT(sum(profile_of(load).asked_ah), WithinRel(28 * 24.0, 1e-12));
}

TEST_CASE("daylight minutes fall between sunrise and sunset, night ones outside", "[load]") {
  Load load = testing::always(1);
  load.schedule = PerDay{240, When::day};
  const LoadProfile day = profile_of(load);
  CHECK(day.asked_ah[2] == 0);
  CHECK(day.asked_ah[12] > 0.3);
  CHECK_THAT(sum(day.asked_ah), WithinRel(365 * 4.0, 1e-12));
  load.schedule = PerDay{240, When::night};
  const LoadProfile night = profile_of(load);
  CHECK(night.asked_ah[12] == 0);
  CHECK(night.asked_ah[2] > 0.3);
  CHECK_THAT(sum(night.asked_ah), WithinRel(365 * 4.0, 1e-12));
  load.schedule = PerDay{240, When::any};
  CHECK_THAT(profile_of(load).asked_ah[100], WithinAbs(4 / 24.0, 1e-12));
}

TEST_CASE("more daylight asked than there is, is said and not invented", "[load]") {
  Load load = testing::always(1);
  load.schedule = PerDay{14 * 60, When::day};
  const LoadProfile profile = profile_of(load, 50);
  REQUIRE(profile.assumptions.size() == 1);
  CHECK(profile.assumptions[0].text.find("December") != std::string::npos);
  CHECK(sum(profile.asked_ah) < 365 * 14.0);
}

TEST_CASE("a load's idle draw fills the time between its runs", "[load]") {
  Load load = testing::always(1);
  load.schedule = Runs{{{.at_min = 600, .for_minutes = 30}}};
  load.idle = Draw{0.1, Draw::Unit::amperes};
  load.count = 2;
  const LoadProfile profile = profile_of(load);
  CHECK_THAT(profile.asked_ah[10], WithinAbs(2 * (0.5 + 0.05), 1e-12));
  CHECK_THAT(profile.asked_ah[11], WithinAbs(0.2, 1e-12));
}

TEST_CASE("minutes from a water line that is not there are refused", "[load][errors]") {
  Load load = testing::always(1);
  load.schedule = FromWater{"beds"};
  try {
    (void)profile_of(load);
    FAIL("accepted");
  } catch (const InputError& e) {
    CHECK(e.field() == "loads[0].from_water");
    CHECK(e.message() == "\"beds\" is not the name of a water line");
  }
}
