#include "amptally/balance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace amptally {
namespace {

// A month of 365/12 days, h.
constexpr double kHoursPerMonth = kHoursPerYear / 12.0;

// Chosen: a year ends as it began when the charge differs by less than this share of capacity.
constexpr double kSteadyShare = 1e-10;
constexpr int kMostYears = 60;

// A discharge this close to the floor is at it, not below: rounding.
constexpr double kFloorSlack = 1e-9;

// What stays the same through a year.
struct Bank {
  bool lead_acid;
  double capacity_ah;        // printed, times health
  double charge_efficiency;  // flat, for lithium
  double ten_hour_a;         // for lead-acid
  double max_charge_ah;      // into the battery in one hour
  double self_discharge;     // share of the charge lost in one hour
  double standby_ah;         // in one hour
  LoadSwitch load_switch;
  std::vector<double> available_ah;  // 365: what can be had at the day's temperature and rate
};

// What goes from year to year. Charge is kept as what has been taken out of a full battery.
struct State {
  double taken_ah = 0;
  bool connected = true;
};

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

struct YearRun {
  std::vector<DayBalance> days;
  Ledger ledger;
};

void add(Ledger& to, const Ledger& day) {
  to.charge_ah += day.charge_ah;
  to.turned_away_ah += day.turned_away_ah;
  to.charging_loss_ah += day.charging_loss_ah;
  to.self_discharge_ah += day.self_discharge_ah;
  to.served_ah += day.served_ah;
}

DayBalance run_day(const Bank& bank, std::size_t d, const SunYear& sun, const ChargeOffer& offer,
                   const LoadProfile& loads, State& state, Ledger& ledger) {
  DayBalance day;
  Ledger books;  // day by day, so that small sums are not rounded into large ones
  day.sun_horizontal_kwh_m2 = sun.days[d].sun_horizontal_kwh_m2;
  day.sun_panel_kwh_m2 = sun.plane_kwh_m2[d];
  const double available_ah = bank.available_ah[d];
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
  }
  books.charge_ah = day.charge_ah;
  add(ledger, books);
  return day;
}

YearRun run_year(const Bank& bank, const SunYear& sun, const ChargeOffer& offer,
                 const LoadProfile& loads, State& state) {
  YearRun run;
  run.days.reserve(kDaysPerYear);
  const double taken_before = state.taken_ah;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    run.days.push_back(run_day(bank, d, sun, offer, loads, state, run.ledger));
  }
  run.ledger.stored_change_ah = taken_before - state.taken_ah;
  return run;
}

// Mean daily use of each month, Ah.
Monthly use_by_month(const LoadProfile& loads, double standby_a) {
  Monthly use{};
  for (int m = 0; m < 12; ++m) {
    const auto from = static_cast<std::size_t>(first_day_of_month(m) - 1) * kHoursPerDay;
    const auto hours = static_cast<std::size_t>(days_in_month(m)) * kHoursPerDay;
    double sum = 0;
    for (std::size_t h = from; h < from + hours; ++h) sum += loads.asked_ah[h];
    use[static_cast<std::size_t>(m)] = sum / days_in_month(m) + standby_a * kHoursPerDay;
  }
  return use;
}

// Charge that a full battery gives at a temperature and a steady daily use, Ah.
double available_ah(const Battery& battery, double temp_c, double use_ah_day) {
  return battery.bank_capacity_ah() * temperature_factor(battery_type(battery.kind), temp_c) *
         rate_factor(battery, use_ah_day / kHoursPerDay);
}

Bank make_bank(const Site& site, const SunYear& sun, const LoadSwitch& load_switch,
               const Monthly& use_ah_day) {
  const Battery& battery = site.battery;
  const BatteryType& type = battery_type(battery.kind);
  Bank bank = {
      .lead_acid = type.is_lead_acid(),
      .capacity_ah = battery.bank_capacity_ah(),
      .charge_efficiency = type.charge_efficiency_share,
      .ten_hour_a = ten_hour_current_a(battery),
      .max_charge_ah =
          battery.max_charge_current_a.value_or(std::numeric_limits<double>::infinity()),
      .self_discharge = battery.self_discharge_pct_month.value_or(type.self_discharge_pct_month) /
                        100 / kHoursPerMonth,
      .standby_ah = standby_current_a(site),
      .load_switch = load_switch,
      .available_ah = {}};
  bank.available_ah.reserve(kDaysPerYear);
  for (int day = 1; day <= kDaysPerYear; ++day) {
    bank.available_ah.push_back(
        available_ah(battery, sun.days[static_cast<std::size_t>(day - 1)].air_temp_c,
                     use_ah_day[static_cast<std::size_t>(month_of_day(day))]));
  }
  return bank;
}

std::array<MonthBalance, 12> by_month(const Site& site, const std::vector<DayBalance>& days,
                                      const Monthly& use_ah_day, double floor_share) {
  std::array<MonthBalance, 12> months{};
  for (std::size_t d = 0; d < days.size(); ++d) {
    const DayBalance& day = days[d];
    MonthBalance& month = months[static_cast<std::size_t>(month_of_day(static_cast<int>(d) + 1))];
    month.sun_horizontal_kwh_m2_day += day.sun_horizontal_kwh_m2;
    month.sun_panel_kwh_m2_day += day.sun_panel_kwh_m2;
    month.charge_ah_day += day.charge_ah;
    const double discharge = 1 - day.state_of_charge_min;
    month.deepest_discharge = std::max(month.deepest_discharge, discharge);
    month.floor_days += discharge > floor_share + kFloorSlack;
    month.shortfall_days += day.shortfall_wh > 0;
    month.shortfall_wh += day.shortfall_wh;
  }
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    MonthBalance& month = months[i];
    const double n = days_in_month(m);
    month.sun_horizontal_kwh_m2_day /= n;
    month.sun_panel_kwh_m2_day /= n;
    month.charge_ah_day /= n;
    month.air_temp_c = site.place.air_temp_c[i];
    month.use_ah_day = use_ah_day[i];
    month.autonomy_days = use_ah_day[i] > 0
                              ? available_ah(site.battery, month.air_temp_c, use_ah_day[i]) *
                                    floor_share / use_ah_day[i]
                              : std::numeric_limits<double>::infinity();
  }
  return months;
}

// The day after the longest unbroken run of days without shortfall, the year taken as a ring.
std::optional<int> first_short_day(const std::vector<DayBalance>& days) {
  const std::size_t n = days.size();
  std::optional<int> first;
  std::size_t longest = 0;
  std::size_t good = 0;
  for (std::size_t i = 0; i < 2 * n; ++i) {
    if (days[i % n].shortfall_wh <= 0) {
      ++good;
      continue;
    }
    if (!first || good > longest) {
      first = static_cast<int>(i % n) + 1;
      longest = good;
    }
    good = 0;
  }
  return first;
}

YearBalance over_year(const std::vector<DayBalance>& days,
                      const std::array<MonthBalance, 12>& months, double standby_a) {
  YearBalance year;
  double shortfall_ah = 0;
  for (const DayBalance& day : days) {
    year.sun_horizontal_kwh_m2 += day.sun_horizontal_kwh_m2;
    year.sun_panel_kwh_m2 += day.sun_panel_kwh_m2;
    year.charge_ah += day.charge_ah;
    year.use_ah += day.use_ah;
    year.mean_daily_discharge += (day.state_of_charge_max - day.state_of_charge_min) / kDaysPerYear;
    year.shortfall_wh += day.shortfall_wh;
    shortfall_ah += day.shortfall_ah;
  }
  year.autonomy_days = std::numeric_limits<double>::infinity();
  for (std::size_t m = 0; m < months.size(); ++m) {
    year.deepest_discharge = std::max(year.deepest_discharge, months[m].deepest_discharge);
    year.floor_days += months[m].floor_days;
    year.shortfall_days += months[m].shortfall_days;
    if (months[m].autonomy_days < year.autonomy_days) {
      year.autonomy_days = months[m].autonomy_days;
      year.autonomy_month = static_cast<int>(m);
    }
  }
  year.standby_ah = standby_a * kHoursPerYear;
  year.served_share = year.use_ah > 0 ? 1 - shortfall_ah / year.use_ah : 1;
  year.first_short_day = first_short_day(days);
  return year;
}

std::vector<Use> uses(const Site& site, const LoadProfile& loads, double standby_a) {
  const double volts = site.battery.bank_voltage_v();
  std::vector<Use> out;
  double total = standby_a * kHoursPerDay;
  for (const double ah : loads.load_ah) total += ah / kDaysPerYear;
  const auto add = [&](const std::string& name, double ah_day) {
    out.push_back({name, ah_day, ah_day * volts, total > 0 ? ah_day / total : 0});
  };
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    add(site.loads[i].name, loads.load_ah[i] / kDaysPerYear);
  }
  add("regulator standby", standby_a * kHoursPerDay);
  std::stable_sort(out.begin(), out.end(),
                   [](const Use& a, const Use& b) { return a.ah_day > b.ah_day; });
  return out;
}

ResolvedAim resolve_aim(const Site& site) {
  return {.autonomy_days = site.aim.autonomy_days,
          .shortfall_days = site.aim.shortfall_days.value_or(0),
          .floor_share = site.aim.floor_share.value_or(site.battery.floor_share)};
}

void append(std::vector<std::string>& to, const std::vector<std::string>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

}  // namespace

Simulation simulate_mean_year(const Site& site) {
  Simulation sim;
  sim.sun = mean_sun_year(site.place, panel_plane(site));
  sim.rating = panel_rating(site.panel, site.battery.bank_voltage_v());
  sim.offer = charge_offer(site, sim.sun);
  sim.loads = load_profile(site, sim.sun.geometry);
  sim.load_switch = load_switch(site, sim.loads.running_current_a);

  const double standby_a = standby_current_a(site);
  const Monthly use_ah_day = use_by_month(sim.loads, standby_a);
  const Bank bank = make_bank(site, sim.sun, sim.load_switch, use_ah_day);
  State state = {.taken_ah = (1 - site.battery.start_share) * bank.capacity_ah, .connected = true};
  Balance& balance = sim.balance;
  YearRun run;
  bool steady = false;
  while (!steady && balance.years_to_steady < kMostYears) {
    const State before = state;
    run = run_year(bank, sim.sun, sim.offer, sim.loads, state);
    ++balance.years_to_steady;
    steady = std::abs(run.ledger.stored_change_ah) <= kSteadyShare * bank.capacity_ah &&
             state.connected == before.connected;
  }
  // Below a billionth of the day's use a shortfall is rounding, not a thirsty plant.
  for (DayBalance& day : run.days) {
    if (day.shortfall_ah <= 1e-9 * day.use_ah) day.shortfall_ah = 0;
    day.shortfall_wh = day.shortfall_ah * site.battery.bank_voltage_v();
  }

  balance.aim = resolve_aim(site);
  balance.days = std::move(run.days);
  balance.ledger = run.ledger;
  balance.months = by_month(site, balance.days, use_ah_day, balance.aim.floor_share);
  balance.year = over_year(balance.days, balance.months, standby_a);
  balance.uses = uses(site, sim.loads, standby_a);
  balance.yearly_change_share =
      bank.capacity_ah > 0 ? run.ledger.stored_change_ah / bank.capacity_ah : 0;
  balance.autonomy_met = balance.year.autonomy_days >= balance.aim.autonomy_days;
  balance.shortfall_met = balance.year.shortfall_days <= balance.aim.shortfall_days;
  balance.floor_met = balance.year.deepest_discharge <= balance.aim.floor_share + kFloorSlack;
  append(balance.assumptions, site.assumptions);
  append(balance.assumptions, sim.rating.assumptions);
  append(balance.assumptions, sim.loads.assumptions);
  return sim;
}

}  // namespace amptally
