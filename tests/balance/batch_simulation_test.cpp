#include "balance/batch/batch_simulation.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "amptally/resize.hpp"
#include "amptally/study.hpp"

#include "balance/batch/kernel_dispatch.hpp"
#include "catch.hpp"
#include "random_site.hpp"
#include "sites.hpp"
#include "skipped.hpp"

using namespace amptally;

namespace {

constexpr int kYears = 3;

WeatherChoice weather_of(WeatherMode mode, int threads) {
  return {.mode = mode, .years = kYears, .threads = threads};
}

// A design of any kind under the base's sky, sizes over two orders of magnitude; some with loads, a
// regulator or a battery of their own.
Site any_variant(const Site& base, testing::Dice& dice) {
  Site site = with_panel_power(base, base.panel.power_w * std::pow(10, dice.between(-1, 1)));
  site = with_battery_capacity(site, base.battery.capacity_ah * std::pow(10, dice.between(-1, 1)));
  site.battery.health_share = dice.between(0.5, 1);
  if (dice.one_of(2) == 0) site.battery.start_share = dice.between(0, 1);
  if (dice.one_of(5) == 0) site.regulator.absorption_v = 12 * dice.between(1, 1.2);
  site.regulator.standby.value = dice.between(0, 0.1);
  site.panel.losses_share = dice.between(0, 0.5);
  if (dice.one_of(3) == 0) site.regulator.max_current_a = dice.between(0.1, 10);
  if (dice.one_of(3) == 0) site.battery.max_charge_current_a = dice.between(0.1, 10);
  if (dice.one_of(3) == 0) {
    site.regulator.cutoff = Threshold{dice.between(0, 0.8), Threshold::Unit::state_of_charge};
  }
  if (dice.one_of(10) == 0) site.battery.kind = any_kind(dice);
  if (dice.one_of(10) == 0) site.regulator.kind = static_cast<RegulatorKind>(dice.one_of(3));
  if (site.regulator.kind == RegulatorKind::none) site.regulator.cutoff.reset();  // none to switch
  if (dice.one_of(10) == 0) site.loads.push_back(testing::always(dice.between(0, 0.5)));
  if (dice.one_of(50) == 0) site.panel.tilt_deg = dice.between(0, 90);
  return site;
}

std::vector<Site> variants_of(const Site& base, std::uint64_t seed, int count) {
  testing::Dice dice(seed);
  std::vector<Site> variants;
  for (int i = 0; i < count; ++i) variants.push_back(any_variant(base, dice));
  return variants;
}

// What a study tells of a year; it leaves the battery's life out.
YearBalance alone(const Site& site, const WeatherChoice& weather, bool& holds) {
  const Balance balance = simulate(site, weather).balance;
  holds = balance.holds();
  YearBalance year = balance.year;
  year.battery_life_years = 0;
  return year;
}

void check_each_alone(int bases, int variants, WeatherMode mode) {
  for (int b = 0; b < bases; ++b) {
    const auto seed = static_cast<std::uint64_t>(b + 1);
    const WeatherChoice weather = weather_of(mode, 2);
    const Site base = testing::random_site(seed);
    const std::vector<Site> sites = variants_of(base, seed, variants);
    const Study study(base, weather);
    const std::vector<JudgedYear> outcomes = study.run(sites);
    const std::vector<bool> meets = study.meets(sites);
    for (std::size_t i = 0; i < sites.size(); ++i) {
      CAPTURE(seed, i);
      bool holds = false;
      REQUIRE(outcomes[i].year == alone(sites[i], weather, holds));
      REQUIRE(outcomes[i].met.holds() == holds);
      REQUIRE(meets[i] == holds);
    }
  }
}

// No variant of its own sky or loads, so that the same designs can be run both ways.
void check_each_kernel(const Site& base, int count) {
  const WeatherChoice weather = weather_of(WeatherMode::synthetic, 1);
  const auto sky = std::make_shared<const SiteSky>(site_sky(base.place, panel_plane(base)));
  const auto years = std::make_shared<const WeatherCache>(sky, weather, offer_shape(base));
  const auto loads = std::make_shared<const SharedLoads>(shared_loads(base, sky->geometry));
  std::vector<Design> designs;
  testing::Dice dice(8);
  for (int i = 0; i < count; ++i) {
    Site site = any_variant(base, dice);
    site.loads = base.loads;
    site.regulator.kind = base.regulator.kind;
    site.battery.kind = base.battery.kind;
    designs.push_back(make_design(site, weather.mode, years, loads));
  }
  std::vector<const Design*> members;
  for (const Design& design : designs) members.push_back(&design);

  REQUIRE(kernels().front() == &kPortableKernel);
  const std::vector<JudgedYear> expected =
      simulate_batch(kPortableKernel, members, weather.mode, true, false);
  for (const DayKernel* kernel : kernels()) {
    for (const bool shared : {true, false}) {
      CAPTURE(kernel->name, shared);
      const std::vector<JudgedYear> outcomes =
          simulate_batch(*kernel, members, weather.mode, shared, false);
      for (std::size_t i = 0; i < designs.size(); ++i) {
        CAPTURE(i);
        REQUIRE(outcomes[i].year == expected[i].year);
      }
    }
  }
}

}  // namespace

TEST_CASE("designs run together give the bits that each gives alone", "[kernel][property]") {
  // 100 designs of a site: a whole block of those run at once, and a part of one.
  check_each_alone(std::max(4, static_cast<int>(testing::site_count(20))), 100,
                   WeatherMode::synthetic);
}

TEST_CASE("designs run together in mean weather give the bits that each gives alone",
          "[kernel][property]") {
  check_each_alone(10, 20, WeatherMode::mean);
}

TEST_CASE(
    "instruction set, number of threads and the other designs change no bit of a design's year",
    "[kernel][property]") {
  const Site base = testing::random_site(5);
  const std::vector<Site> sites = variants_of(base, 5, 90);
  const std::vector<JudgedYear> expected =
      Study(base, weather_of(WeatherMode::synthetic, 1)).run(sites);
  for (const int threads : {2, 3, 7}) {
    const Study study(base, weather_of(WeatherMode::synthetic, threads));
    CAPTURE(threads);
    const std::vector<JudgedYear> outcomes = study.run(sites);
    for (std::size_t i = 0; i < sites.size(); ++i) {
      CAPTURE(i);
      REQUIRE(outcomes[i].year == expected[i].year);
    }
    for (std::size_t i = 0; i < sites.size(); i += 17) {
      REQUIRE(study.run(sites[i]).year == expected[i].year);
    }
  }
}

TEST_CASE("every kernel that runs here gives the same bits, with shared days or its own",
          "[kernel][property]") {
  if (std::string(widest_kernel().name) != "avx512") {
    testing::skipped(std::string("this processor runs no kernel wider than ") +
                     widest_kernel().name);
  }
  // 2,000 designs, in numbers that are no whole number of any vector: 21 and 101 of a site.
  const int bases = std::max(4, static_cast<int>(testing::site_count(33)));
  for (int b = 0; b < bases; ++b) {
    CAPTURE(b);
    check_each_kernel(testing::random_site(static_cast<std::uint64_t>(b + 1)),
                      b % 2 == 0 ? 21 : 101);
  }
}
