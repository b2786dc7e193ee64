#include "balance/batch/block_fill.hpp"

#include <algorithm>

#include "balance/counting_rules.hpp"

namespace amptally {

void set_lane(Block& block, std::size_t lane, const Design& design) {
  const BankOf<double>& bank = design.bank.hourly;
  const auto set = [&](Row& row, double x) { row.lane[lane] = x; };
  set(block.standby_ah, bank.standby_ah);
  set(block.kept_share, bank.kept_share);
  set(block.drift_ah, bank.drift_ah);
  set(block.charge_limit_ah, bank.charge_limit_ah);
  set(block.frozen_limit_ah, frozen_limit_ah(design.bank));
  set(block.taper_gain_a, bank.taper.gain_a);
  set(block.taper_offset_a, bank.taper.offset_a);
  set(block.taper_tail, bank.taper.tail);
  set(block.taper_bend, bank.taper.bend);
  set(block.offer_size, design.offer_size);
  set(block.offer_limit, design.offer_limit_a);
  set(block.floor_share, design.aim.floor_share + kFloorSlack);
  set(block.bank_v, design.battery.bank_voltage_v());
  const LoadSwitch& at = design.bank.load_switch;
  set(block.capacity_ah, design.bank.capacity_ah);
  set(block.above_cutoff, 1 - at.cutoff_share);
  set(block.above_reconnect, 1 - at.reconnect_share);
  set(block.cold_reconnect_ah, day_marks(design.bank, 0).reconnect_ah);
  set(block.taken_ah, design.start.taken_ah);
  set(block.connected, design.start.connected);
}

void set_rates(std::span<const Design* const> designs, std::array<Row, 12>& rates) {
  for (std::size_t m = 0; m < rates.size(); ++m) {
    for (std::size_t i = 0; i < designs.size(); ++i) {
      rates[m].lane[i] = designs[i]->rate_factor[m];
    }
  }
}

std::vector<AlikeLanes> alike_lanes(std::span<const Design* const> designs) {
  std::vector<AlikeLanes> runs;
  for (std::size_t i = 0; i < designs.size(); ++i) {
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
                             std::span<const SharedYear* const> years, std::size_t day,
                             Row& factors) {
  for (const AlikeLanes& run : alike) {
    const BatteryType& type = battery_type(designs[run.begin]->battery.kind);
    std::fill(factors.lane + run.begin, factors.lane + run.end,
              temperature_factor(type, years[run.begin]->day_air_c[day]));
  }
}

}  // namespace amptally
