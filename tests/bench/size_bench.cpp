// How long the search for sizes takes, and how few runs it needs. Run: size_bench [THREADS]
#include <algorithm>
#include <chrono>
#include <cstdlib>

#include <fmt/core.h>

#include "amptally/size.hpp"

using namespace amptally;

namespace {

// Goals on the machine this was written on (2 cores of a server, 2.0 GHz class), on two threads.
constexpr double kMost_s = 1.5;
constexpr double kMostOfGrid = 0.1;
constexpr int kGrid = 40 * 40;

// A watering system at 43 N with sun and air of a mild, dull coast; figures of our own.
Site garden(BatteryKind kind, RegulatorKind regulator) {
  Site site{.name = "garden",
            .place = {.name = "coast",
                      .latitude_deg = 43.4,
                      .longitude_deg = -5.9,
                      .sun_horizontal_kwh_m2_day = {1.6, 2.4, 3.6, 4.4, 5.1, 5.5, 5.5, 4.9, 4.0,
                                                    2.7, 1.8, 1.4},
                      .air_temp_c = {9, 9, 11, 12, 14, 17, 19, 20, 18, 15, 12, 10},
                      .utc_offset_h = 1},
            .panel = {.power_w = 10, .tilt_deg = 60, .azimuth_deg = 180},
            .regulator = {.kind = regulator,
                          .standby = {.value = 0.02},
                          .cutoff = Threshold{0.5, Threshold::Unit::state_of_charge}},
            .battery = {.kind = kind, .capacity_ah = 12, .floor_share = 0.5},
            .aim = {}};
  site.loads.push_back({.name = "pump",
                        .draw = {2, Draw::Unit::amperes},
                        .schedule = Runs{{{390, 30}, {1170, 30}}}});
  return site;
}

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
  const Site lead = garden(BatteryKind::agm, RegulatorKind::pwm);
  measure("agm, pwm", lead, {}, threads);
  measure("lifepo4, mppt", garden(BatteryKind::lifepo4, RegulatorKind::mppt), {}, threads);
  measure("agm, pwm, four tilts", lead, {.try_tilts = true}, threads);
  return 0;
}
