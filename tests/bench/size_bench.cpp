// How long the search for sizes takes, and how few runs it needs. Run: size_bench [THREADS]
#include <algorithm>
#include <chrono>
#include <cstdlib>

#include <fmt/core.h>

#include "amptally/size.hpp"

#include "garden.hpp"

using namespace amptally;
using bench::garden;

namespace {

// Goals on the machine this was written on (2 cores of a server, 2.0 GHz class), on two threads.
constexpr double kMost_s = 1.5;
constexpr double kMostOfGrid = 0.1;
constexpr int kGrid = 40 * 40;

void measure(const char* name, const Site& site, const SizeRequest& request, int threads) {
  const auto before = std::chrono::steady_clock::now();
  const Sizing sizing =
      size_site(site, {.mode = WeatherMode::synthetic, .years = 40, .threads = threads}, request);
  const double took_s =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
  const double tilts = static_cast<double>(sizing.tilts_deg.size());
  const double share = sizing.evaluations / (tilts * kGrid);
  fmt::print("{:22} {:6.2f} s ({})  {:4} runs, {:4.1f} % of the grid ({})  {} on the line", name,
             took_s, took_s < kMost_s * tilts ? "in time" : "TOO SLOW", sizing.evaluations,
             100 * share, share <= kMostOfGrid ? "few" : "TOO MANY", sizing.line.size());
  if (sizing.best) {
    fmt::print("  best {:g} W {:g} Ah", sizing.best->sizes.panel_power_w(),
               sizing.best->sizes.battery_capacity_ah());
  }
  fmt::print("\n");
}

}  // namespace

int main(int argc, char** argv) {
  const int threads = argc > 1 ? std::max(1, std::atoi(argv[1])) : 2;
  const Site lead = garden(battery_kind("agm"), RegulatorKind::pwm);
  measure("agm, pwm", lead, {}, threads);
  measure("lifepo4, mppt", garden(battery_kind("lifepo4"), RegulatorKind::mppt), {}, threads);
  measure("agm, pwm, four tilts", lead, {.try_tilts = true}, threads);
  return 0;
}
