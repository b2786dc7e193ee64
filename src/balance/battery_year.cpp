#include "balance/battery_year.hpp"

#include <algorithm>
#include <limits>

#include "parts/battery_taper.hpp"

namespace amptally {
namespace {

using State = StateOf<double>;

// A month of 365/12 days, h.
constexpr double kHoursPerMonth = kHoursPerYear / 12.0;

// What was taken from the battery's terminals while charging: lead-acid counts as full when as much
// was let in as was missing; lithium loses a fixed share.
double accepted_ah(const Bank& bank, const FlowOf<double>& flow, double taken_ah) {
  if (bank.lead_acid) return std::min(flow.given_ah, taken_ah);
  return flow.stored_ah / bank.charge_efficiency;
}

// An hour's entries in the books.
// @param taken_ah  before the hour
void enter(const Bank& bank, double offer_ah, double asked_ah, double taken_ah,
           const FlowOf<double>& flow, Ledger& books) {
  const double accepted = flow.surplus_ah > 0 ? accepted_ah(bank, flow, taken_ah) : 0;
  books.charge_ah += offer_ah;
  books.turned_away_ah += flow.surplus_ah - accepted;
  books.charging_loss_ah += accepted - flow.stored_ah;
  books.served_ah += asked_ah + bank.hourly.standby_ah - flow.short_ah;
  books.self_discharge_ah += flow.self_discharge_ah;
}

DayBalance run_day(const Bank& bank, double available_ah, std::size_t d, const SunYear& sun,
                   const ChargeOffer& offer, const LoadProfile& loads, State& state, YearRun& run) {
  const DayMarksOf<double> marks = day_marks(bank, available_ah);
  DayBalance day;
  Ledger books;  // day by day, so that small sums are not rounded into large ones
  double asked_ah = 0;
  double least_taken_ah = state.taken_ah;
  double most_taken_ah = state.taken_ah;
  BankOf<double> hourly = bank.hourly;
  for (std::size_t h = d * kHoursPerDay; h < (d + 1) * kHoursPerDay; ++h) {
    const double taken_ah = state.taken_ah;
    const double offer_ah = offer.current_a[h];
    FlowOf<double> flow;
    if (sun.plane_w_m2[h] > 0) {
      hourly.charge_limit_ah = sun.air_temp_c[h] < kLithiumChargeFrom_c
                                   ? frozen_limit_ah(bank)
                                   : bank.hourly.charge_limit_ah;
      most_taken_ah = OneLane::most(most_taken_ah, state.taken_ah);
      flow = lit_hour<OneLane>(hourly, marks, offer_ah, loads.asked_ah[h], state);
      least_taken_ah = OneLane::least(least_taken_ah, state.taken_ah);
    } else {  // in the dark a battery only empties
      flow = dark_hour<OneLane>(hourly, marks, loads.asked_ah[h], state);
    }
    enter(bank, offer_ah, loads.asked_ah[h], taken_ah, flow, books);
    asked_ah += loads.asked_ah[h];
    day.shortfall_ah += flow.short_ah;
    run.state_of_charge.push_back(state_of_charge<OneLane>(state.taken_ah, marks.empty_ah));
  }
  most_taken_ah = OneLane::most(most_taken_ah, state.taken_ah);
  day.sun_horizontal_kwh_m2 = sun.days[d].sun_horizontal_kwh_m2;
  day.sun_panel_kwh_m2 = sun.plane_kwh_m2[d];
  day.charge_ah = books.charge_ah;
  day.use_ah = asked_ah + kHoursPerDay * bank.hourly.standby_ah;
  day.state_of_charge_min = state_of_charge<OneLane>(most_taken_ah, marks.empty_ah);
  day.state_of_charge_max = state_of_charge<OneLane>(least_taken_ah, marks.empty_ah);
  day.state_of_charge_end = run.state_of_charge.back();
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

Bank make_bank(const Site& site, const LoadSwitch& load_switch) {
  const Battery& battery = site.battery;
  const BatteryType& type = battery_type(battery.kind);
  const double lost_share =
      battery.self_discharge_pct_month.value_or(type.self_discharge_pct_month) / 100 /
      kHoursPerMonth;
  return {.lead_acid = type.is_lead_acid(),
          .charges_in_frost = type.charges_in_frost,
          .charge_efficiency = type.charge_efficiency_share,
          .capacity_ah = battery.bank_capacity_ah(),
          .load_switch = load_switch,
          .hourly = {.standby_ah = standby_current_a(site),
                     .kept_share = 1 - lost_share,
                     .drift_ah = lost_share * battery.bank_capacity_ah(),
                     .charge_limit_ah = battery.max_charge_current_a.value_or(
                         std::numeric_limits<double>::infinity()),
                     .taper = charge_taper(battery)}};
}

double frozen_limit_ah(const Bank& bank) {
  return bank.charges_in_frost ? bank.hourly.charge_limit_ah : 0;
}

DayMarksOf<double> day_marks(const Bank& bank, double available_ah) {
  const LoadSwitch& at = bank.load_switch;
  // A battery too cold to give anything stands at 0 of nothing: loads stay on only if that is where
  // they come back.
  const double reconnect_ah = available_ah > 0   ? available_ah * (1 - at.reconnect)
                              : at.reconnect > 0 ? -1
                                                 : bank.capacity_ah;
  return {.empty_ah = available_ah,
          .cutoff_ah = available_ah * (1 - at.cutoff),
          .reconnect_ah = reconnect_ah};
}

StateOf<double> start_state(const Site& site, const Bank& bank) {
  return {.taken_ah = (1 - site.battery.start_share) * bank.capacity_ah, .connected = 1};
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
