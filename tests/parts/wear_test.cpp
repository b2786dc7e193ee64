#include "amptally/wear.hpp"

#include <cmath>
#include <map>

#include "amptally/balance.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::map<double, double> counts(const std::vector<Cycle>& cycles) {
  std::map<double, double> out;
  for (const Cycle& cycle : cycles) out[cycle.range] += cycle.count;
  return out;
}

Battery battery_with(std::vector<CyclePoint> points) {
  return {.kind = battery_kind("agm"),
          .capacity_ah = 10,
          .floor_share = 0.5,
          .cycles = std::move(points)};
}

}  // namespace

TEST_CASE("rainflow counts the standard's example", "[life][printed-outside]") {
  // Source: ASTM E1049-85, Figure 6: ranges, means and counts, read in a public test file.
  const std::vector<double> series = {-2, 1, -3, 5, -1, 3, -4, 4, -2};
  const std::vector<Cycle> cycles = rainflow(series);
  struct Row {
    double range, mean, count;
  };
  constexpr Row kRows[] = {{3, -0.5, 0.5}, {4, -1, 0.5}, {4, 1, 1},  {8, 1, 0.5},
                           {9, 0.5, 0.5},  {8, 0, 0.5},  {6, 1, 0.5}};
  REQUIRE(cycles.size() == std::size(kRows));
  for (std::size_t i = 0; i < cycles.size(); ++i) {
    CAPTURE(i);
    CHECK(cycles[i].range == kRows[i].range);
    CHECK(cycles[i].mean == kRows[i].mean);
    CHECK(cycles[i].count == kRows[i].count);
  }
}

TEST_CASE("rainflow counts a longer series as the standard does", "[life][recomputed]") {
  // Source: the second series of the same test file; its turning points put together from the
  // printed ranges, means and positions.
  const std::vector<double> series = {-1.5, 1, -3, 10,  -1, 3, -8, 4, -2,  6,
                                      -8,   2, -5, 2.5, -4, 1, 0,  2, -0.5};
  const std::map<double, double> expected = {{1, 1}, {2.5, 1},    {4, 1.5},  {6, 1.5}, {6.5, 0.5},
                                             {7, 1}, {10.5, 0.5}, {13, 0.5}, {14, 1},  {18, 0.5}};
  CHECK(counts(rainflow(series)) == expected);
}

TEST_CASE("rainflow looks at turning points alone", "[life]") {
  CHECK(rainflow(std::vector<double>{}).empty());
  CHECK(rainflow(std::vector<double>{0.5, 0.5, 0.5}).empty());
  CHECK(counts(rainflow(std::vector<double>{0, 0.2, 0.4, 0.4, 1, 0.7, 0.1})) ==
        counts(rainflow(std::vector<double>{0, 1, 0.1})));
}

TEST_CASE("the curve of cycles runs through its points and on beyond them", "[life]") {
  const Battery battery = battery_with({{0.3, 1500}, {0.5, 600}, {1.0, 200}});
  CHECK_THAT(cycles_at_depth(battery, 0.3), WithinRel(1500, 1e-9));
  CHECK_THAT(cycles_at_depth(battery, 0.5), WithinRel(600, 1e-9));
  CHECK_THAT(cycles_at_depth(battery, 1.0), WithinRel(200, 1e-9));
  CHECK_THAT(cycles_at_depth(battery, std::sqrt(0.3 * 0.5)),
             WithinRel(std::sqrt(1500.0 * 600), 1e-9));
  CHECK(cycles_at_depth(battery, 0.1) > 1500);
  CHECK(std::isinf(cycles_at_depth(battery, 0)));
  CHECK_THAT(cycles_at_depth(battery_with({{0.5, 600}}), 0.25), WithinRel(1200, 1e-9));
  // Without a curve of its own the type's counts: typical 12 V 40 Ah sealed datasheet, 50 %: 600.
  CHECK_THAT(cycles_at_depth(battery_with({}), 0.5), WithinRel(600, 1e-9));
}

TEST_CASE("one cycle a day to half depth wears a battery out as Miner's sum says", "[life]") {
  // 365 cycles of 600 a year: 1.64 years. Miner 1945: damage is the sum of n/N.
  const Battery battery = battery_with({{0.5, 600}, {1.0, 200}});
  std::vector<double> charge;
  for (int day = 0; day < 365; ++day) {
    charge.push_back(1.0);
    charge.push_back(0.5);
  }
  const double worn = wear(battery, rainflow(charge));
  CHECK_THAT(worn, WithinRel(365.0 / 600, 0.002));
  Monthly mild;
  mild.fill(20);
  const Life life = battery_life(battery, mild, worn, wear(battery, rainflow(charge), 0.5));
  CHECK(life.worn_by_depth);
  CHECK_THAT(life.years, WithinRel(600.0 / 365, 0.002));
  CHECK(life.half_depth_years > life.years);
}

TEST_CASE("the shelf life halves for every 10 K above 25", "[life]") {
  Battery battery = battery_with({});
  battery.shelf_life_years = 8;
  Monthly temps;
  temps.fill(25);
  CHECK_THAT(shelf_life_years(battery, temps), WithinRel(8, 1e-12));
  temps.fill(35);
  CHECK_THAT(shelf_life_years(battery, temps), WithinRel(4, 1e-12));
  temps.fill(-10);
  CHECK_THAT(shelf_life_years(battery, temps), WithinRel(8, 1e-12));  // the cold keeps no longer
  const Life life = battery_life(battery, temps, 0, 0);
  CHECK_FALSE(life.worn_by_depth);
  CHECK(life.years == shelf_life_years(battery, temps));
}

TEST_CASE("what an old battery has behind it is taken off its life, down to 80 % of its capacity",
          "[life]") {
  // Regression, 28 Nov 2026: at 60 % health it "lasted 1.8 years".
  Battery battery = battery_with({});
  battery.shelf_life_years = 8;
  Monthly temps;
  temps.fill(25);
  const auto years_at = [&](double health) {
    battery.health_share = health;
    return battery_life(battery, temps, 0.01, 0.005).years;
  };
  CHECK_THAT(years_at(1), WithinRel(8, 1e-12));
  CHECK_THAT(years_at(0.9), WithinRel(4, 1e-9));
  CHECK(years_at(0.8) == 0);
  CHECK(years_at(0.6) == 0);
}

TEST_CASE("the life at half the depth comes from the battery's own curve of cycles", "[life]") {
  // A single point is carried on with one over the depth: half as deep, twice as many.
  Site site = testing::plain_site();
  site.battery.cycles = {{0.5, 600}};
  site.battery.shelf_life_years = 100;  // age does not end it first
  site.loads = {testing::always(0.25)};
  const Life life = simulate(site).balance.life;
  CHECK_THAT(life.half_depth_years, WithinRel(2 * life.by_depth_years, 1e-9));
}

TEST_CASE("a battery twice as large lives longer", "[life][property]") {
  Site site = testing::plain_site();
  site.battery.capacity_ah = 12;
  site.loads = {testing::always(0.25)};
  const double small = simulate(site).balance.life.by_depth_years;
  site.battery.capacity_ah = 24;
  CHECK(simulate(site).balance.life.by_depth_years > 1.5 * small);
}
