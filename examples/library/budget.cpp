// The library in use: a site as a struct, a mean year of it, a verdict.
#include <cstdio>

#include "amptally/balance.hpp"
#include "amptally/battery_type.hpp"
#include "amptally/climate.hpp"

int main() {
  const auto climate = amptally::climate_at(43.38, -5.87);
  const amptally::Site site{
      .name = "cold frame",
      .place = amptally::place_of(climate, 43.38, -5.87),
      .panel = {.power_w = 20, .tilt_deg = 55, .azimuth_deg = 180},
      .regulator = {.standby = {.value = 0.012}},
      .battery = {.kind = amptally::battery_kind("agm"), .capacity_ah = 7, .floor_share = 0.5},
      .loads = {{.name = "pump", .draw = {.value = 1.2}, .schedule = amptally::PerDay{20}}},
      .aim = {.autonomy_days = 3}};
  const amptally::Balance balance = amptally::simulate(site).balance;
  std::printf("%s: %.0f Ah in, %.0f Ah out, %.1f days without sun\n",
              balance.holds() ? "Holds" : "Short", balance.year.charge_ah, balance.year.use_ah,
              balance.year.autonomy_days);
}
