#include "year_walk.hpp"

#include <algorithm>

namespace amptally {
namespace {

struct HourFlow {
  double served_ah = 0;
  double short_ah = 0;
  double turned_away_ah = 0;
  double charging_loss_ah = 0;
  double self_discharge_ah = 0;
};

// Lithium cells must not be charged below freezing: typical pack datasheets (charge 0..50 deg C).
constexpr double kLithiumChargeFrom_c = 0;

void charge(const Bank& bank, double surplus_ah, double air_temp_c, State& state, HourFlow& flow) {
  if (!bank.lead_acid && air_temp_c < kLithiumChargeFrom_c) {
    flow.turned_away_ah = surplus_ah;
    return;
  }
  const double offered = std::min(surplus_ah, bank.max_charge_ah);
  double stored = 0;
  double accepted = 0;
  if (bank.lead_acid) {
    accepted = std::min(offered, state.taken_ah);
    stored = bank.capacity_ah * stored_share(state.taken_ah / bank.capacity_ah,
                                             offered / bank.capacity_ah, offered / bank.ten_hour_a);
    stored = std::min(stored, accepted);
  } else {
    stored = std::min(offered * bank.charge_efficiency, state.taken_ah);
    accepted = stored / bank.charge_efficiency;
  }
  flow.turned_away_ah = surplus_ah - accepted;
  flow.charging_loss_ah = accepted - stored;
  state.taken_ah -= stored;
}

// Standby comes first and is drawn down to empty; loads only down to the cutoff.
void discharge(const Bank& bank, double available_ah, double offer_ah, double load_ah, State& state,
               HourFlow& flow) {
  const double standby_direct = std::min(offer_ah, bank.standby_ah);
  const double load_direct = std::min(offer_ah - standby_direct, load_ah);
  const double standby_left = bank.standby_ah - standby_direct;
  const double load_left = load_ah - load_direct;
  const double for_standby = std::min(standby_left, std::max(0.0, available_ah - state.taken_ah));
  state.taken_ah += for_standby;
  const double cutoff_ah = available_ah * (1 - bank.load_switch.cutoff);
  const double for_loads = std::min(load_left, std::max(0.0, cutoff_ah - state.taken_ah));
  state.taken_ah += for_loads;
  if (for_loads < load_left) state.connected = false;
  flow.served_ah = standby_direct + load_direct + for_standby + for_loads;
  flow.short_ah += (standby_left - for_standby) + (load_left - for_loads);
}

HourFlow step(const Bank& bank, double available_ah, double offer_ah, double asked_ah,
              double air_temp_c, State& state) {
  HourFlow flow;
  const double state_of_charge = available_ah > 0 ? 1 - state.taken_ah / available_ah : 0;
  if (!state.connected && state_of_charge >= bank.load_switch.reconnect) state.connected = true;
  const double load_ah = state.connected ? asked_ah : 0;
  flow.short_ah = asked_ah - load_ah;
  const double wanted_ah = bank.standby_ah + load_ah;
  if (offer_ah >= wanted_ah) {
    flow.served_ah = wanted_ah;
    charge(bank, offer_ah - wanted_ah, air_temp_c, state, flow);
  } else {
    discharge(bank, available_ah, offer_ah, load_ah, state, flow);
  }
  flow.self_discharge_ah = bank.self_discharge * (bank.capacity_ah - state.taken_ah);
  state.taken_ah += flow.self_discharge_ah;
  return flow;
}

double state_of_charge(double taken_ah, double available_ah) {
  // A battery that cooled after it was emptied has more out than it could give now: still empty.
  return available_ah > 0 ? std::max(0.0, 1 - taken_ah / available_ah) : 0;
}

DayBalance run_day(const Bank& bank, double available_ah, std::size_t d, const SunYear& sun,
                   const ChargeOffer& offer, const LoadProfile& loads, State& state, YearRun& run) {
  DayBalance day;
  Ledger books;  // day by day, so that small sums are not rounded into large ones
  day.sun_horizontal_kwh_m2 = sun.days[d].sun_horizontal_kwh_m2;
  day.sun_panel_kwh_m2 = sun.plane_kwh_m2[d];
  day.state_of_charge_min = day.state_of_charge_max = state_of_charge(state.taken_ah, available_ah);
  for (std::size_t h = d * kHoursPerDay; h < (d + 1) * kHoursPerDay; ++h) {
    const HourFlow flow =
        step(bank, available_ah, offer.current_a[h], loads.asked_ah[h], sun.air_temp_c[h], state);
    day.charge_ah += offer.current_a[h];
    day.use_ah += loads.asked_ah[h] + bank.standby_ah;
    day.shortfall_ah += flow.short_ah;
    books.turned_away_ah += flow.turned_away_ah;
    books.charging_loss_ah += flow.charging_loss_ah;
    books.self_discharge_ah += flow.self_discharge_ah;
    books.served_ah += flow.served_ah;
    const double soc = state_of_charge(state.taken_ah, available_ah);
    day.state_of_charge_min = std::min(day.state_of_charge_min, soc);
    day.state_of_charge_max = std::max(day.state_of_charge_max, soc);
    day.state_of_charge_end = soc;
    run.state_of_charge.push_back(soc);
  }
  books.charge_ah = day.charge_ah;
  add(run.ledger, books);
  return day;
}

}  // namespace

void add(Ledger& to, const Ledger& from) {
  to.charge_ah += from.charge_ah;
  to.turned_away_ah += from.turned_away_ah;
  to.charging_loss_ah += from.charging_loss_ah;
  to.self_discharge_ah += from.self_discharge_ah;
  to.served_ah += from.served_ah;
}

YearRun run_year(const Bank& bank, const std::vector<double>& available_ah, const SunYear& sun,
                 const ChargeOffer& offer, const LoadProfile& loads, State& state) {
  YearRun run;
  run.days.reserve(kDaysPerYear);
  run.state_of_charge.reserve(kHoursPerYear);
  const double taken_before = state.taken_ah;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    run.days.push_back(run_day(bank, available_ah[d], d, sun, offer, loads, state, run));
  }
  run.ledger.stored_change_ah = taken_before - state.taken_ah;
  return run;
}

}  // namespace amptally
