#include "amptally/cable.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace amptally::inline v0_1 {

double copper_resistance_ratio(double temp_c) { return 1 + 0.004 * (temp_c - 20); }

double resistance_ohm_m(const Conductor& conductor, double temp_c) {
  return conductor.resistance_ohm_km / 1000 * copper_resistance_ratio(temp_c) /
         copper_resistance_ratio(conductor.at_c);
}

double drop_v(const Circuit& circuit, double ohm_m) {
  return 2 * circuit.length_m * circuit.current_a * ohm_m;
}

const Conductor* thinnest_conductor(ConductorStandard standard, const Circuit& circuit) {
  const double most_v = circuit.max_drop_share * circuit.voltage_v;
  for (const Conductor& conductor : conductors()) {
    if (conductor.standard == standard && circuit.fuse_a <= conductor.ampacity_a &&
        drop_v(circuit, resistance_ohm_m(conductor)) <= most_v) {
      return &conductor;
    }
  }
  return nullptr;
}

std::optional<double> blade_fuse_a(double current_a) {
  constexpr std::array<double, 11> kSizes_a = {1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40};
  const auto next = std::lower_bound(kSizes_a.begin(), kSizes_a.end(), current_a);
  return next != kSizes_a.end() ? std::optional(*next) : std::nullopt;
}

PumpShares affinity_shares(double speed_share) {
  return {speed_share, speed_share * speed_share, speed_share * speed_share * speed_share};
}

}  // namespace amptally::inline v0_1
