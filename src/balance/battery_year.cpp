#include "balance/battery_year.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "parts/battery_taper.hpp"
#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {
namespace {

static_assert(kDayHours == kHoursPerDay);
static_assert(kYearDays == kDaysPerYear);

using State = StateOf<double>;
using Scalar = ScalarArithmetic;

// A month of 365/12 days, h.
constexpr double kHoursPerMonth = kHoursPerYear / 12.0;

// What went in at the battery's terminals while charging. A battery that gases counts as full when
// as much was let in as was missing; another is held at its voltage, takes less and less, and loses
// a fixed share of what it takes.
// @param missing_ah  from the fullest that it is charged, when the charging began
double accepted_ah(const BatteryBank& bank, const FlowOf<double>& flow, double missing_ah) {
  if (bank.gases) return std::min(flow.given_ah, missing_ah);
  return std::min(flow.given_ah, flow.stored_ah / bank.hourly.taper.kept_share);
}

// Enters an hour, but for what was offered: that is the day's sum.
// @param missing_ah  as for `accepted_ah`
void add_hour(Ledger& books, const BatteryBank& bank, double asked_ah, double missing_ah,
              const FlowOf<double>& flow) {
  const double accepted = flow.surplus_ah > 0 ? accepted_ah(bank, flow, missing_ah) : 0;
  books.turned_away_ah += flow.surplus_ah - accepted;
  books.charging_loss_ah += accepted - flow.stored_ah;
  books.served_ah += asked_ah + bank.hourly.standby_ah - flow.short_ah;
  books.self_discharge_ah += flow.self_discharge_ah;
}

DayFiguresOf<double> run_day(const BatteryBank& bank, const YearInput& input, std::size_t d,
                             State& state, YearRun& run) {
  const DayMarksOf<double> day = day_marks<Scalar>(bank.daily, input.temperature_factor[d]);
  DaySumsOf<double> sums = begin_day<Scalar>(state.taken_ah);
  Ledger books;  // day by day, so that small sums are not rounded into large ones
  HourConstantsOf<double> hourly = bank.hourly;
  for (std::size_t h = d * kHoursPerDay; h < (d + 1) * kHoursPerDay; ++h) {
    double missing_ah = 0;
    const LoadProfile& loads = input.loads;
    const AskedOf<double> asked = {loads.asked_ah[h], loads.run_ah[h], loads.run_share[h]};
    const HourMarksOf<double> marks =
        hour_marks<Scalar>(day, bank.drawable_share[loads.draw_of_hour[h]]);
    const Light light = light_of(input.sun.plane_w_m2[h], input.sun.air_temp_c[h]);
    FlowOf<double> flow;
    if (light == Light::dark) {
      flow = dark_hour_in_day<Scalar>(hourly, marks, asked.all_ah, state, sums.shortfall_ah);
    } else {
      hourly.charge_limit_ah =
          charge_limit_in(light, bank.hourly.charge_limit_ah, frozen_limit_ah(bank));
      flow = serve_in_day<Scalar>(hourly.standby_ah, marks, input.offer.current_a[h], asked, state,
                                  sums);
      missing_ah = std::max(state.taken_ah - hourly.taper.unfilled_ah, 0.0);
      charge_in_day<Scalar>(hourly, flow, state, sums.least_taken_ah);
    }
    add_hour(books, bank, asked.all_ah, missing_ah, flow);
    run.state_of_charge.push_back(state_of_charge<Scalar>(state.taken_ah, day.empty_ah));
  }
  books.charge_ah = sums.charge_ah;
  add(run.ledger, books);
  return end_day<Scalar>(bank.daily, day, sums, state.taken_ah, input.asked_day_ah[d],
                         hourly.standby_ah);
}

DayBalance day_balance(const SunYear& sun, std::size_t d, const DayFiguresOf<double>& day,
                       double state_of_charge_end) {
  return {.sun_horizontal_kwh_m2 = sun.days[d].sun_horizontal_kwh_m2,
          .sun_panel_kwh_m2 = sun.plane_kwh_m2[d],
          .charge_ah = day.charge_ah,
          .use_ah = day.use_ah,
          .state_of_charge_min = day.state_of_charge_min,
          .state_of_charge_max = day.state_of_charge_max,
          .state_of_charge_end = state_of_charge_end,
          .shortfall_ah = day.shortfall_ah,
          .shortfall_wh = day.shortfall_wh};
}

}  // namespace

void SunSum::add_day(const SunYear& sun, std::size_t d) {
  horizontal_kwh_m2 += sun.days[d].sun_horizontal_kwh_m2;
  panel_kwh_m2 += sun.plane_kwh_m2[d];
}

void add(Ledger& to, const Ledger& from) {
  to.charge_ah += from.charge_ah;
  to.turned_away_ah += from.turned_away_ah;
  to.charging_loss_ah += from.charging_loss_ah;
  to.self_discharge_ah += from.self_discharge_ah;
  to.served_ah += from.served_ah;
}

BatteryBank make_bank(const Site& site, const LoadProfile& loads, const LoadSwitch& load_switch,
                      double floor_share) {
  const Battery& battery = site.battery;
  const BatteryType& type = battery_type(battery.kind);
  const double capacity_ah = battery.bank_capacity_ah();
  TaperOf<double> taper = charge_taper(battery);
  taper.unfilled_ah = (1 - filled_share(site)) * capacity_ah;
  const double lost_share =
      battery.self_discharge_pct_month.value_or(type.self_discharge_pct_month) / 100 /
      kHoursPerMonth;
  std::vector<double> drawable;
  drawable.reserve(loads.draws_a.size());
  for (const double draw_a : loads.draws_a) drawable.push_back(drawable_share(site, draw_a));
  constexpr double kAtOnce = std::numeric_limits<double>::infinity();
  return {
      .gases = !type.sealed,
      .charges_in_frost = type.charges_in_frost,
      .drawable_share = std::move(drawable),
      .hourly = {.standby_ah = standby_current_a(site),
                 .kept_share = 1 - lost_share,
                 .drift_ah = lost_share * capacity_ah,
                 .charge_limit_ah =
                     battery.max_charge_current_a.value_or(std::numeric_limits<double>::infinity()),
                 .taper = taper},
      .daily = {.capacity_ah = capacity_ah,
                .above_reconnect = load_switch.cuts_off ? 1 - load_switch.reconnect_share : kAtOnce,
                // A battery too cold to give anything stands at 0 of nothing: loads that were
                // cut off come back only if that is where they do.
                .cold_reconnect_ah = !load_switch.cuts_off             ? kAtOnce
                                     : load_switch.reconnect_share > 0 ? -1
                                                                       : capacity_ah,
                .floor_share = floor_share,
                .bank_v = battery.bank_voltage_v()}};
}

double frozen_limit_ah(const BatteryBank& bank) {
  return bank.charges_in_frost ? bank.hourly.charge_limit_ah : 0;
}

StateOf<double> start_state(const Site& site, const BatteryBank& bank) {
  return {.taken_ah = (1 - site.battery.start_share.value_or(1)) * bank.daily.capacity_ah,
          .connected = 1};
}

YearRun run_year(const BatteryBank& bank, const YearInput& input, State& state,
                 DullDaysOf<double>& dull) {
  YearRun run;
  run.days.reserve(kDaysPerYear);
  run.state_of_charge.reserve(kHoursPerYear);
  const double taken_before = state.taken_ah;
  dull.longest = 0;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const DayFiguresOf<double> day = run_day(bank, input, d, state, run);
    run.days.push_back(day_balance(input.sun, d, day, run.state_of_charge.back()));
    for (Period* period : {&run.months[month_index(d)], &run.year}) {
      period->sun.add_day(input.sun, d);
      add_day<Scalar>(period->days, day);
    }
    count_dull_day<Scalar>(dull, day);
  }
  run.ledger.stored_change_ah = taken_before - state.taken_ah;
  run.longest_dull_days = static_cast<int>(dull.longest);
  return run;
}

}  // namespace amptally::inline v0_1
