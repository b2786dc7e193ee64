// How long the making of a sky, of its years and of a year's wear takes, and a look at the panel's
// curve. Run: sky_bench [REPEATS]
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <vector>

#include <fmt/core.h>

#include "amptally/panel.hpp"
#include "amptally/wear.hpp"
#include "amptally/weather.hpp"

#include "garden.hpp"

using namespace amptally;
using bench::garden;

namespace {

// Goals, as multiples of 8,760 exponentials, so that they hold on any machine. Chosen: what many
// designs share should cost no more to make than one of them to walk through a few years.
constexpr double kMostSky = 40;
constexpr double kMostShadedSky = 45;
constexpr double kMostMeanYear = 10;
constexpr double kMostSyntheticYear = 2.5;
constexpr double kMostWear = 1.5;
constexpr double kMostPanelYear = 8;

// Results land here, so that no compiler leaves the work out.
volatile double kept = 0;

// Shortest time of an action, us: other work on the machine only ever adds.
double shortest_us(int repeats, const std::function<void()>& action) {
  using Clock = std::chrono::steady_clock;
  double shortest = 1e300;
  for (int i = 0; i < repeats; ++i) {
    const auto before = Clock::now();
    action();
    shortest = std::min(shortest,
                        std::chrono::duration<double, std::micro>(Clock::now() - before).count());
  }
  return shortest;
}

void exponentials() {
  double sum = 0;
  for (int h = 0; h < kHoursPerYear; ++h) sum += std::exp(-1e-3 * h);
  kept = sum;
}

// State of charge of a battery that is filled by the sun and emptied by a pump six times a day.
std::vector<double> state_of_charge(const SunYear& sun) {
  constexpr std::array<std::size_t, 6> kPumpHours = {6, 7, 10, 13, 16, 19};
  std::vector<double> series;
  double charge = 1;
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    const bool pump = std::count(kPumpHours.begin(), kPumpHours.end(), h % kHoursPerDay) > 0;
    charge += 0.12 * sun.plane_w_m2[h] / 1000 - (pump ? 0.04 : 0.004) - 1e-4 * charge;
    charge = std::clamp(charge, 0.0, 1.0);
    series.push_back(charge);
  }
  return series;
}

void print(const char* name, double us, double yardstick_us, double most) {
  const double ratio = us / yardstick_us;
  fmt::print("{:34} {:9.1f} us {:7.2f} x ({} {})\n", name, us, ratio,
             ratio <= most ? "within" : "ABOVE", most);
}

}  // namespace

int main(int argc, char** argv) {
  const int repeats = argc > 1 ? std::max(1, std::atoi(argv[1])) : 200;
  const Site site = garden(battery_kind("agm"), RegulatorKind::pwm);
  const std::vector<Obstacle> shade = {
      {.azimuth_from_deg = 75, .azimuth_to_deg = 115, .elevation_deg = 18},
      {.azimuth_from_deg = 215,
       .azimuth_to_deg = 240,
       .elevation_deg = 30,
       .months = MonthSet(0b001111110000),
       .blocks_share = 0.7}};
  const PanelPlane open = panel_plane(site);
  PanelPlane shaded = open;
  shaded.shade = shade;
  const SiteSky sky = site_sky(site.place, open);
  const SunYear year = synthetic_sun_year(sky, 1, 0);
  const std::vector<double> charge = state_of_charge(year);
  const PanelRating rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  const PanelCurve curve(rating);

  const double yardstick_us = shortest_us(repeats, exponentials);
  const auto measure = [&](const char* name, double most, const std::function<void()>& action) {
    print(name, shortest_us(repeats, action), yardstick_us, most);
  };
  fmt::print("one thread, shortest of {} runs, in multiples of 8,760 exponentials\n", repeats);
  fmt::print("{:34} {:9.1f} us\n", "8,760 exponentials", yardstick_us);
  measure("sky", kMostSky, [&] { kept = site_sky(site.place, open).geometry[0].sky_view; });
  measure("sky with two obstacles", kMostShadedSky,
          [&] { kept = site_sky(site.place, shaded).geometry[0].sky_view; });
  measure("mean year", kMostMeanYear, [&] { kept = mean_sun_year(sky).plane_kwh_m2[0]; });
  measure("synthetic year", kMostSyntheticYear,
          [&] { kept = synthetic_sun_year(sky, 1, 0).plane_kwh_m2[0]; });
  measure("a year's cycles and wear, twice", kMostWear, [&] {
    const std::vector<Cycle> cycles = rainflow(charge);
    kept = wear(site.battery, cycles) + wear(site.battery, cycles, 0.5);
  });
  measure("panel's current in 8,760 hours", kMostPanelYear, [&] {
    double sum = 0;
    for (int h = 0; h < kHoursPerYear; ++h) {
      sum += curve.current_a(13.2, 1 + 0.11 * h, -5 + 0.007 * h);
    }
    kept = sum;
  });
  return 0;
}
