#include "lanes.hpp"

#include "core/sun_year.hpp"
#include "core/tally_rules.hpp"

namespace amptally {

MarkLane mark_lane(const Design& design) {
  const LoadSwitch& at = design.bank.load_switch;
  return {.capacity_ah = design.bank.capacity_ah,
          .type = &battery_type(design.battery.kind),
          .rate_factor = design.rate_factor,
          .above_cutoff = 1 - at.cutoff,
          .above_reconnect = 1 - at.reconnect,
          .frozen_reconnect_ah = day_marks(design.bank, 0).reconnect_ah};
}

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
  set(block.taken_ah, design.start.taken_ah);
  set(block.connected, design.start.connected);
}

void set_marks(std::span<const MarkLane> lanes, std::span<const SharedYear* const> years,
               std::size_t day, DayRows& marks) {
  const std::size_t month = month_index(day);
  const BatteryType* type = nullptr;
  const SharedYear* year = nullptr;
  double factor = 1;
  for (std::size_t i = 0; i < lanes.size(); ++i) {
    const MarkLane& lane = lanes[i];
    if (lane.type != type || years[i] != year) {
      type = lane.type;
      year = years[i];
      factor = temperature_factor(*type, year->day_air_c[day]);
    }
    const double empty_ah = lane.capacity_ah * factor * lane.rate_factor[month];
    marks.empty_ah.lane[i] = empty_ah;
    marks.cutoff_ah.lane[i] = empty_ah * lane.above_cutoff;
    marks.reconnect_ah.lane[i] =
        empty_ah > 0 ? empty_ah * lane.above_reconnect : lane.frozen_reconnect_ah;
  }
}

}  // namespace amptally
