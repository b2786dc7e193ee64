#include "balance/batch/block_fill.hpp"

#include <algorithm>

namespace amptally::inline v0_1 {

// Member by member: one that is left out here stays 0 in every lane, and nothing tells.
void set_lane(Block& block, std::size_t lane, const Design& design) {
  const HourConstantsOf<double>& hourly = design.bank.hourly;
  const DayConstantsOf<double>& daily = design.bank.daily;
  const auto set = [&](Row& row, double x) { row.lane[lane] = x; };
  set(block.hourly.standby_ah, hourly.standby_ah);
  set(block.hourly.kept_share, hourly.kept_share);
  set(block.hourly.drift_ah, hourly.drift_ah);
  set(block.hourly.charge_limit_ah, hourly.charge_limit_ah);
  set(block.hourly.taper.gain_a, hourly.taper.gain_a);
  set(block.hourly.taper.offset_a, hourly.taper.offset_a);
  set(block.hourly.taper.tail, hourly.taper.tail);
  set(block.hourly.taper.bend, hourly.taper.bend);
  set(block.hourly.taper.kept_share, hourly.taper.kept_share);
  set(block.hourly.taper.unfilled_ah, hourly.taper.unfilled_ah);
  set(block.frozen_limit_ah, frozen_limit_ah(design.bank));
  set(block.daily.capacity_ah, daily.capacity_ah);
  set(block.daily.above_reconnect, daily.above_reconnect);
  set(block.daily.cold_reconnect_ah, daily.cold_reconnect_ah);
  set(block.daily.floor_share, daily.floor_share);
  set(block.daily.bank_v, daily.bank_v);
  set(block.offer_size, design.offer_size);
  set(block.offer_limit, design.offer_limit_a);
  set(block.state.taken_ah, design.start.taken_ah);
  set(block.state.connected, design.start.connected);
}

std::vector<Row> drawable_rows(std::span<const Design* const> designs) {
  std::vector<Row> rows(designs.front()->bank.drawable_share.size());
  for (std::size_t draw = 0; draw < rows.size(); ++draw) {
    for (std::size_t i = 0; i < designs.size(); ++i) {
      rows[draw].lane[i] = designs[i]->bank.drawable_share[draw];
    }
  }
  return rows;
}

std::vector<AlikeLanes> alike_lanes(std::span<const Design* const> designs) {
  std::vector<AlikeLanes> runs;
  for (std::size_t i = 0; i < designs.size(); ++i) {
    // All that a day's temperature factor depends on. Compared with the lane before only: alike
    // lanes apart make two runs, at some cost but with the same result.
    const bool as_before = i > 0 && designs[i]->years == designs[i - 1]->years &&
                           designs[i]->battery.kind == designs[i - 1]->battery.kind;
    if (as_before) {
      runs.back().end = i + 1;
    } else {
      runs.push_back({i, i + 1});
    }
  }
  return runs;
}

void set_temperature_factors(std::span<const Design* const> designs,
                             std::span<const AlikeLanes> alike,
                             std::span<const WeatherYear* const> years, std::size_t day,
                             Row& factors) {
  for (const AlikeLanes& run : alike) {
    const BatteryType& type = battery_type(designs[run.begin]->battery.kind);
    std::fill(factors.lane + run.begin, factors.lane + run.end,
              temperature_factor(type, years[run.begin]->day_air_c[day]));
  }
}

}  // namespace amptally::inline v0_1
