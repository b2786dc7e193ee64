// How long a balance takes, and where the time goes. Run: balance_bench [REPEATS]
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <vector>

#include <fmt/core.h>

#include "amptally/balance.hpp"

#include "garden.hpp"

using namespace amptally;
using bench::garden;

namespace {

constexpr int kYears = 40;

// Goals. Chosen: forty years should feel immediate, and the weather that many designs share should
// not be what takes the time.
constexpr double kMostMs = 60;
constexpr double kMostMakingShare = 0.3;

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
  const Site site = garden(battery_kind("agm"), RegulatorKind::pwm);
  const Simulation prepared = prepare(site);
  const WeatherChoice years = {.mode = WeatherMode::synthetic, .years = kYears};

  const double prepare_ms = median_ms(repeats, [&] { kept = prepare(site).sun.plane_kwh_m2[0]; });
  const double mean_ms =
      median_ms(repeats, [&] { kept = simulate_prepared(site, prepared, {}).year.use_ah; });
  const double total_ms =
      median_ms(repeats, [&] { kept = simulate_prepared(site, prepared, years).year.use_ah; });
  const double making_ms = median_ms(repeats, [&] {
    for (int y = 0; y < kYears; ++y) kept = synthetic_sun_year(prepared.sky, 1, y).plane_kwh_m2[0];
  });
  std::vector<SunYear> suns;
  suns.reserve(kYears);
  for (int y = 0; y < kYears; ++y) suns.push_back(synthetic_sun_year(prepared.sky, 1, y));
  const double offer_ms = median_ms(repeats, [&] {
    for (const SunYear& sun : suns) kept = charge_offer(site, sun).clipped_ah;
  });

  const int steps = simulate_prepared(site, prepared, {}).years_to_steady * kHoursPerYear;
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
