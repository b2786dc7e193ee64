// How long a balance takes, and where the time goes. Run: balance_bench [REPEATS]
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <vector>

#include <fmt/core.h>

#include "amptally/balance.hpp"

using namespace amptally;

namespace {

constexpr int kYears = 40;

// Goals. Chosen: forty years should feel immediate, and the weather that many designs share should
// not be what takes the time.
constexpr double kMostMs = 60;
constexpr double kMostMakingShare = 0.3;

// A watering system at 43 N with sun and air of a mild, dull coast; figures of our own.
Site garden() {
  Site site{.name = "garden",
            .place = {.name = "coast",
                      .latitude_deg = 43.4,
                      .longitude_deg = -5.9,
                      .sun_horizontal_kwh_m2_day = {1.6, 2.4, 3.6, 4.4, 5.1, 5.5, 5.5, 4.9, 4.0,
                                                    2.7, 1.8, 1.4},
                      .air_temp_c = {9, 9, 11, 12, 14, 17, 19, 20, 18, 15, 12, 10},
                      .utc_offset_h = 1},
            .panel = {.power_w = 10, .tilt_deg = 60, .azimuth_deg = 180},
            .regulator = {.kind = RegulatorKind::pwm,
                          .standby = {.value = 0.02},
                          .cutoff = Threshold{0.5, Threshold::Unit::state_of_charge}},
            .battery = {.kind = BatteryKind::agm, .capacity_ah = 12, .floor_share = 0.5},
            .aim = {}};
  site.loads.push_back({.name = "pump",
                        .draw = {2, Draw::Unit::amperes},
                        .schedule = Runs{{{390, 30}, {1170, 30}}}});
  return site;
}

// Median time of an action, ms.
double median_ms(int repeats, const std::function<void()>& action) {
  using Clock = std::chrono::steady_clock;
  std::vector<double> times;
  for (int i = 0; i < repeats; ++i) {
    const auto before = Clock::now();
    action();
    times.push_back(std::chrono::duration<double, std::milli>(Clock::now() - before).count());
  }
  std::nth_element(times.begin(), times.begin() + repeats / 2, times.end());
  return times[static_cast<std::size_t>(repeats / 2)];
}

// Results land here, so that no compiler leaves the work out.
volatile double kept = 0;

}  // namespace

int main(int argc, char** argv) {
  const int repeats = argc > 1 ? std::max(1, std::atoi(argv[1])) : 15;
  const Site site = garden();
  const Simulation prepared = prepare(site);
  const WeatherChoice years = {.mode = WeatherMode::synthetic, .years = kYears};

  const double prepare_ms = median_ms(repeats, [&] { kept = prepare(site).sun.plane_kwh_m2[0]; });
  const double mean_ms =
      median_ms(repeats, [&] { kept = balance_over(site, prepared, {}).year.use_ah; });
  const double total_ms =
      median_ms(repeats, [&] { kept = balance_over(site, prepared, years).year.use_ah; });
  const double making_ms = median_ms(repeats, [&] {
    for (int y = 0; y < kYears; ++y) kept = synthetic_sun_year(prepared.sky, 1, y).plane_kwh_m2[0];
  });
  std::vector<SunYear> suns;
  suns.reserve(kYears);
  for (int y = 0; y < kYears; ++y) suns.push_back(synthetic_sun_year(prepared.sky, 1, y));
  const double offer_ms = median_ms(repeats, [&] {
    for (const SunYear& sun : suns) kept = charge_offer(site, sun).clipped_ah;
  });

  const int steps = balance_over(site, prepared, {}).years_to_steady * kHoursPerYear;
  const double making_share = making_ms / total_ms;
  fmt::print("one thread, median of {} runs\n", repeats);
  fmt::print("prepare a site             {:8.2f} ms\n", prepare_ms);
  fmt::print("mean year until steady     {:8.2f} ms  {:6.1f} ns a step, {} steps\n", mean_ms,
             1e6 * mean_ms / steps, steps);
  fmt::print("{} synthetic years         {:8.2f} ms  {:6.1f} ns a step ({})\n", kYears, total_ms,
             1e6 * total_ms / (kYears * kHoursPerYear),
             total_ms < kMostMs ? fmt::format("below {} ms", kMostMs)
                                : fmt::format("NOT below {} ms", kMostMs));
  fmt::print(
      "  making their weather     {:8.2f} ms  {:6.1f} % ({})\n", making_ms, 100 * making_share,
      making_share < kMostMakingShare ? fmt::format("below {:.0f} %", 100 * kMostMakingShare)
                                      : fmt::format("NOT below {:.0f} %", 100 * kMostMakingShare));
  fmt::print("  panel and regulator      {:8.2f} ms  {:6.1f} %\n", offer_ms,
             100 * offer_ms / total_ms);
  fmt::print("  battery, loads, summary  {:8.2f} ms  {:6.1f} %\n", total_ms - making_ms - offer_ms,
             100 * (total_ms - making_ms - offer_ms) / total_ms);
  return 0;
}
