#pragma once

#include "balance/batch/block.hpp"
#include "balance/day_step.hpp"
#include "parts/sized_offer.hpp"

/// A day of a block, for any kind of arithmetic `A` (quantity/lane_arithmetic.hpp): takes lanes out
/// of their rows, through the rules of the day (balance/day_step.hpp), and back. Each instruction
/// set's file compiles it for its own.
///
/// Whatever is defined here must depend on `A` or be static: else the linker might take one
/// processor's copy for all.
namespace amptally::inline v0_1 {

template <class A>
AMPTALLY_INLINE typename A::Value at(const Row& row, int i) {
  return A::load(row.lane + i);
}

template <class A>
AMPTALLY_INLINE void set(Row& row, int i, typename A::Value x) {
  A::store(row.lane + i, x);
}

template <class A>
AMPTALLY_INLINE HourConstantsOf<typename A::Value> hourly_at(const Block& b, int i,
                                                             typename A::Value charge_limit_ah) {
  const HourConstantsOf<Row>& bank = b.hourly;
  return {at<A>(bank.standby_ah, i),
          at<A>(bank.kept_share, i),
          at<A>(bank.drift_ah, i),
          charge_limit_ah,
          {at<A>(bank.taper.gain_a, i), at<A>(bank.taper.offset_a, i), at<A>(bank.taper.tail, i),
           at<A>(bank.taper.bend, i), at<A>(bank.taper.kept_share, i),
           at<A>(bank.taper.unfilled_ah, i)}};
}

template <class A>
AMPTALLY_INLINE DayConstantsOf<typename A::Value> daily_at(const Block& b, int i) {
  const DayConstantsOf<Row>& daily = b.daily;
  return {at<A>(daily.capacity_ah, i), at<A>(daily.above_reconnect, i),
          at<A>(daily.cold_reconnect_ah, i), at<A>(daily.floor_share, i), at<A>(daily.bank_v, i)};
}

template <class A>
AMPTALLY_INLINE DayMarksOf<typename A::Value> marks_at(const DayMarksOf<Row>& marks, int i) {
  return {at<A>(marks.empty_ah, i), at<A>(marks.reconnect_ah, i)};
}

template <class A>
AMPTALLY_INLINE StateOf<typename A::Value> state_at(const Block& b, int i) {
  return {at<A>(b.state.taken_ah, i), at<A>(b.state.connected, i)};
}

template <class A>
AMPTALLY_INLINE void set_state(Block& b, int i, const StateOf<typename A::Value>& state) {
  set<A>(b.state.taken_ah, i, state.taken_ah);
  set<A>(b.state.connected, i, state.connected);
}

template <class A>
AMPTALLY_INLINE DaySumsOf<typename A::Value> sums_at(const DaySumsOf<Row>& sums, int i) {
  return {at<A>(sums.charge_ah, i), at<A>(sums.shortfall_ah, i), at<A>(sums.least_taken_ah, i),
          at<A>(sums.most_taken_ah, i)};
}

template <class A>
AMPTALLY_INLINE PeriodSumsOf<typename A::Value> year_at(const Block& b, int i) {
  const PeriodSumsOf<Row>& year = b.year;
  return {at<A>(year.charge_ah, i),         at<A>(year.use_ah, i),
          at<A>(year.shortfall_ah, i),      at<A>(year.shortfall_wh, i),
          at<A>(year.shortfall_days, i),    at<A>(year.floor_days, i),
          at<A>(year.deepest_discharge, i), at<A>(year.mean_daily_discharge, i)};
}

template <class A>
AMPTALLY_INLINE void set_year(Block& b, int i, const PeriodSumsOf<typename A::Value>& year) {
  set<A>(b.year.charge_ah, i, year.charge_ah);
  set<A>(b.year.use_ah, i, year.use_ah);
  set<A>(b.year.shortfall_ah, i, year.shortfall_ah);
  set<A>(b.year.shortfall_wh, i, year.shortfall_wh);
  set<A>(b.year.shortfall_days, i, year.shortfall_days);
  set<A>(b.year.floor_days, i, year.floor_days);
  set<A>(b.year.deepest_discharge, i, year.deepest_discharge);
  set<A>(b.year.mean_daily_discharge, i, year.mean_daily_discharge);
}

template <class A>
void begin_block_day(const Block& b, const Row& temperature_factor, int lanes,
                     DayMarksOf<Row>& marks, DaySumsOf<Row>& sums) {
  using V = typename A::Value;
  for (int i = 0; i < lanes; i += A::kWidth) {
    const DayMarksOf<V> own_marks = day_marks<A>(daily_at<A>(b, i), at<A>(temperature_factor, i));
    set<A>(marks.empty_ah, i, own_marks.empty_ah);
    set<A>(marks.reconnect_ah, i, own_marks.reconnect_ah);
    const DaySumsOf<V> own_sums = begin_day<A>(at<A>(b.state.taken_ah, i));
    set<A>(sums.charge_ah, i, own_sums.charge_ah);
    set<A>(sums.shortfall_ah, i, own_sums.shortfall_ah);
    set<A>(sums.least_taken_ah, i, own_sums.least_taken_ah);
    set<A>(sums.most_taken_ah, i, own_sums.most_taken_ah);
  }
}

/// One hour of all lanes. `hour` gives offer, what is asked, what can be drawn and the charge limit
/// of the lanes from `i`.
/// In two goes: an hour's operations wait for one another, so the shorter each go, the more vectors
/// a processor has under way at once.
template <class A, class Hour>
void run_lit_hour(Block& b, const DayMarksOf<Row>& marks, int lanes, const Hour& hour,
                  DaySumsOf<Row>& sums) {
  using V = typename A::Value;
  Row surplus_ah;
  for (int i = 0; i < lanes; i += A::kWidth) {
    StateOf<V> state = state_at<A>(b, i);
    DaySumsOf<V> own = sums_at<A>(sums, i);
    const FlowOf<V> flow = serve_in_day<A>(
        at<A>(b.hourly.standby_ah, i), hour_marks<A>(marks_at<A>(marks, i), hour.drawable_share(i)),
        hour.offer_ah(i), hour.asked(i), state, own);
    // All of the day's sums but the one that charging changes.
    set<A>(sums.most_taken_ah, i, own.most_taken_ah);
    set<A>(sums.charge_ah, i, own.charge_ah);
    set<A>(sums.shortfall_ah, i, own.shortfall_ah);
    set<A>(surplus_ah, i, flow.surplus_ah);
    set_state<A>(b, i, state);
  }
  for (int i = 0; i < lanes; i += A::kWidth) {
    // Charging does not ask whether the loads are connected.
    StateOf<V> state{at<A>(b.state.taken_ah, i), A::all(1)};
    FlowOf<V> flow{A::all(0), at<A>(surplus_ah, i), A::all(0), A::all(0), A::all(0)};
    V least_taken_ah = at<A>(sums.least_taken_ah, i);
    charge_in_day<A>(hourly_at<A>(b, i, hour.charge_limit_ah(i)), flow, state, least_taken_ah);
    set<A>(sums.least_taken_ah, i, least_taken_ah);
    set<A>(b.state.taken_ah, i, state.taken_ah);
  }
}

template <class A, class Hour>
void run_dark_hour(Block& b, const DayMarksOf<Row>& marks, int lanes, const Hour& hour,
                   DaySumsOf<Row>& sums) {
  using V = typename A::Value;
  for (int i = 0; i < lanes; i += A::kWidth) {
    StateOf<V> state = state_at<A>(b, i);
    V shortfall_ah = at<A>(sums.shortfall_ah, i);
    (void)dark_hour_in_day<A>(hourly_at<A>(b, i, A::all(0)),
                              hour_marks<A>(marks_at<A>(marks, i), hour.drawable_share(i)),
                              hour.asked(i).all_ah, state, shortfall_ah);
    set<A>(sums.shortfall_ah, i, shortfall_ah);
    set_state<A>(b, i, state);
  }
}

static bool is_lit(const SharedDay& day, int h) { return day.light[h] != Light::dark; }
static bool is_lit(const OwnDay& day, int h) { return day.lit[h]; }

template <class A>
typename A::Value asked_day_ah(const SharedDay& day, int /*i*/) {
  return A::all(day.asked_day_ah);
}

template <class A>
typename A::Value asked_day_ah(const OwnDay& day, int i) {
  return at<A>(day.asked_day_ah, i);
}

/// Adds the day to the year.
template <class A, class Day>
void end_block_day(Block& b, const DayMarksOf<Row>& marks, int lanes, const Day& day,
                   const DaySumsOf<Row>& sums, Row& short_years) {
  using V = typename A::Value;
  for (int i = 0; i < lanes; i += A::kWidth) {
    const DayFiguresOf<V> figures = end_day<A>(
        daily_at<A>(b, i), marks_at<A>(marks, i), sums_at<A>(sums, i), at<A>(b.state.taken_ah, i),
        asked_day_ah<A>(day, i), at<A>(b.hourly.standby_ah, i));
    PeriodSumsOf<V> year = year_at<A>(b, i);
    add_day<A>(year, figures);
    set_year<A>(b, i, year);
    DullDaysOf<V> dull{at<A>(b.dull.so_far, i), at<A>(b.dull.longest, i)};
    count_dull_day<A>(dull, figures);
    set<A>(b.dull.so_far, i, dull.so_far);
    set<A>(b.dull.longest, i, dull.longest);
    set<A>(short_years, i, at<A>(short_years, i) + figures.is_short);
  }
}

/// An hour of a day that is shared: the same unit offer and loads for all lanes.
template <class A>
struct SharedHour {
  const Block& block;
  double unit_offer;
  AskedOf<double> asked_of_all;
  const Row& drawable;
  const Row& limit_ah;

  typename A::Value drawable_share(int i) const { return at<A>(drawable, i); }
  typename A::Value offer_ah(int i) const {
    return sized_offer<A>(A::all(unit_offer), at<A>(block.offer_size, i),
                          at<A>(block.offer_limit, i))
        .current_a;
  }
  AskedOf<typename A::Value> asked(int /*i*/) const {
    return {A::all(asked_of_all.all_ah), A::all(asked_of_all.run_ah),
            A::all(asked_of_all.run_share)};
  }
  typename A::Value charge_limit_ah(int i) const { return at<A>(limit_ah, i); }
};

/// An hour in which each lane has its own.
template <class A>
struct OwnHour {
  const Row& offer;
  const Row& asked_ah;
  const Row& run_ah;
  const Row& run_share;
  const Row& drawable;
  const Row& limit_ah;

  typename A::Value drawable_share(int i) const { return at<A>(drawable, i); }
  typename A::Value offer_ah(int i) const { return at<A>(offer, i); }
  AskedOf<typename A::Value> asked(int i) const {
    return {at<A>(asked_ah, i), at<A>(run_ah, i), at<A>(run_share, i)};
  }
  typename A::Value charge_limit_ah(int i) const { return at<A>(limit_ah, i); }
};

template <class A>
SharedHour<A> hour_of(const Block& b, const SharedDay& day, int h) {
  return {b,
          day.unit_offer[h],
          {day.asked_ah[h], day.run_ah[h], day.run_share[h]},
          day.drawable_share[day.draw_of_hour[h]],
          charge_limit_in(day.light[h], b.hourly.charge_limit_ah, b.frozen_limit_ah)};
}

template <class A>
OwnHour<A> hour_of(const Block& /*b*/, const OwnDay& day, int h) {
  return {day.offer_ah[h],  day.asked_ah[h],       day.run_ah[h],
          day.run_share[h], day.drawable_share[h], day.charge_limit_ah[h]};
}

/// A day of either kind.
template <class A, class Day>
void run_block_day(Block& b, const Row& temperature_factor, const Day& day, Row& short_years,
                   int lanes) {
  DayMarksOf<Row> marks;
  DaySumsOf<Row> sums;
  begin_block_day<A>(b, temperature_factor, lanes, marks, sums);
  for (int h = 0; h < kDayHours; ++h) {
    const auto hour = hour_of<A>(b, day, h);
    if (is_lit(day, h)) {
      run_lit_hour<A>(b, marks, lanes, hour, sums);
    } else {
      run_dark_hour<A>(b, marks, lanes, hour, sums);
    }
  }
  end_block_day<A>(b, marks, lanes, day, sums, short_years);
}

}  // namespace amptally::inline v0_1
