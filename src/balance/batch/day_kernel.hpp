#pragma once

#include "balance/batch/block.hpp"
#include "balance/counting_rules.hpp"
#include "balance/hour_step.hpp"

/// A day of a block, for any kind of lanes `L` (quantity/lane_arithmetic.hpp). Each instruction
/// set's file compiles it for its own.
namespace amptally {

/// The day's sums of each lane, until it is over.
struct DaySums {
  Row charge_ah;
  Row short_ah;
  Row least_taken_ah;
  Row most_taken_ah;
};

template <class L>
BankOf<typename L::Value> bank_at(const Block& b, int i, typename L::Value charge_limit_ah) {
  return {L::load(b.standby_ah.lane + i),
          L::load(b.kept_share.lane + i),
          L::load(b.drift_ah.lane + i),
          charge_limit_ah,
          {L::load(b.taper_gain_a.lane + i), L::load(b.taper_offset_a.lane + i),
           L::load(b.taper_tail.lane + i), L::load(b.taper_bend.lane + i)}};
}

/// A design's marks for a day, see DayMarksOf.
struct DayRows {
  Row empty_ah;
  Row cutoff_ah;
  Row reconnect_ah;
};

/// As `day_marks` has them for one design.
template <class L>
void set_marks(const Block& b, const DayShares& shares, int lanes, DayRows& marks) {
  using V = typename L::Value;
  for (int i = 0; i < lanes; i += L::kWidth) {
    const V empty_ah = L::load(b.capacity_ah.lane + i) *
                       L::load(shares.temperature_factor.lane + i) *
                       L::load(shares.rate_factor->lane + i);
    L::store(marks.empty_ah.lane + i, empty_ah);
    L::store(marks.cutoff_ah.lane + i, empty_ah * L::load(b.above_cutoff.lane + i));
    L::store(marks.reconnect_ah.lane + i,
             L::where_no_more(empty_ah, L::all(0), L::load(b.cold_reconnect_ah.lane + i),
                              empty_ah * L::load(b.above_reconnect.lane + i)));
  }
}

template <class L>
DayMarksOf<typename L::Value> marks_at(const DayRows& m, int i) {
  return {L::load(m.empty_ah.lane + i), L::load(m.cutoff_ah.lane + i),
          L::load(m.reconnect_ah.lane + i)};
}

template <class L>
void add_to(Row& row, int i, typename L::Value x) {
  L::store(row.lane + i, L::load(row.lane + i) + x);
}

template <class L>
void begin_day(const Block& b, int lanes, DaySums& sums) {
  for (int i = 0; i < lanes; i += L::kWidth) {
    const typename L::Value taken_ah = L::load(b.taken_ah.lane + i);
    L::store(sums.charge_ah.lane + i, L::all(0));
    L::store(sums.short_ah.lane + i, L::all(0));
    L::store(sums.least_taken_ah.lane + i, taken_ah);
    L::store(sums.most_taken_ah.lane + i, taken_ah);
  }
}

/// One hour of all lanes. `hour` gives offer, asked charge and charge limit of the lanes from `i`.
/// In two goes: an hour's operations wait for one another, so the shorter each go, the more vectors
/// a processor has under way at once.
///
/// Highest and lowest charge are looked for before and after hours with sun, and at the day's end:
/// in the dark a battery only empties.
template <class L, class Hour>
void run_lit_hour(Block& b, const DayRows& marks, int lanes, const Hour& hour, DaySums& sums) {
  using V = typename L::Value;
  Row surplus_ah;
  for (int i = 0; i < lanes; i += L::kWidth) {
    StateOf<V> state{L::load(b.taken_ah.lane + i), L::load(b.connected.lane + i)};
    double* const most = sums.most_taken_ah.lane + i;
    L::store(most, L::most(L::load(most), state.taken_ah));
    const V offer_ah = hour.offer_ah(i);
    const FlowOf<V> flow = serve<L>(L::load(b.standby_ah.lane + i), marks_at<L>(marks, i), offer_ah,
                                    hour.asked_ah(i), state);
    add_to<L>(sums.charge_ah, i, offer_ah);
    add_to<L>(sums.short_ah, i, flow.short_ah);
    L::store(surplus_ah.lane + i, flow.surplus_ah);
    L::store(b.taken_ah.lane + i, state.taken_ah);
    L::store(b.connected.lane + i, state.connected);
  }
  for (int i = 0; i < lanes; i += L::kWidth) {
    StateOf<V> state{L::load(b.taken_ah.lane + i), L::all(1)};
    FlowOf<V> flow{L::all(0), L::load(surplus_ah.lane + i), L::all(0), L::all(0), L::all(0)};
    charge<L>(bank_at<L>(b, i, hour.charge_limit_ah(i)), flow, state);
    double* const least = sums.least_taken_ah.lane + i;
    L::store(least, L::least(L::load(least), state.taken_ah));
    L::store(b.taken_ah.lane + i, state.taken_ah);
  }
}

template <class L, class Hour>
void run_dark_hour(Block& b, const DayRows& marks, int lanes, const Hour& hour, DaySums& sums) {
  using V = typename L::Value;
  for (int i = 0; i < lanes; i += L::kWidth) {
    StateOf<V> state{L::load(b.taken_ah.lane + i), L::load(b.connected.lane + i)};
    const FlowOf<V> flow =
        dark_hour<L>(bank_at<L>(b, i, L::all(0)), marks_at<L>(marks, i), hour.asked_ah(i), state);
    add_to<L>(sums.short_ah, i, flow.short_ah);
    L::store(b.taken_ah.lane + i, state.taken_ah);
    L::store(b.connected.lane + i, state.connected);
  }
}

static bool is_lit(const SharedDay& day, int h) { return day.light[h] != Light::dark; }
static bool is_lit(const OwnDay& day, int h) { return day.lit[h]; }

template <class L>
typename L::Value asked_day_ah(const SharedDay& day, int /*i*/) {
  return L::all(day.asked_day_ah);
}

template <class L>
typename L::Value asked_day_ah(const OwnDay& day, int i) {
  return L::load(day.asked_day_ah.lane + i);
}

/// Enters the day into the year's books, as YearSummary does for one design.
template <class L, class Day>
void end_day(Block& b, const DayRows& marks, int lanes, const Day& day, const DaySums& sums,
             Row& short_years) {
  using V = typename L::Value;
  const V none = L::all(0);
  const V one = L::all(1);
  for (int i = 0; i < lanes; i += L::kWidth) {
    const V empty_ah = L::load(marks.empty_ah.lane + i);
    const V most_taken_ah =
        L::most(L::load(sums.most_taken_ah.lane + i), L::load(b.taken_ah.lane + i));
    const V lowest = state_of_charge<L>(most_taken_ah, empty_ah);
    const V highest = state_of_charge<L>(L::load(sums.least_taken_ah.lane + i), empty_ah);
    const V charge_ah = L::load(sums.charge_ah.lane + i);
    const V use_ah = asked_day_ah<L>(day, i) + L::all(kDayHours) * L::load(b.standby_ah.lane + i);
    const V all_short_ah = L::load(sums.short_ah.lane + i);
    const V short_ah =
        L::where_no_more(all_short_ah, L::all(kRoundingShare) * use_ah, none, all_short_ah);
    const V is_short = L::where_no_more(short_ah, none, none, one);
    const V discharge = one - lowest;
    const V is_low = L::where_no_more(discharge, L::load(b.floor_share.lane + i), none, one);
    const V run_days =
        L::where_no_more(use_ah, charge_ah, none, L::load(b.dull_run_days.lane + i) + one);
    add_to<L>(b.charge_ah, i, charge_ah);
    add_to<L>(b.use_ah, i, use_ah);
    add_to<L>(b.short_ah, i, short_ah);
    add_to<L>(b.short_wh, i, short_ah * L::load(b.bank_v.lane + i));
    add_to<L>(b.short_days, i, is_short);
    add_to<L>(short_years, i, is_short);
    add_to<L>(b.floor_days, i, is_low);
    add_to<L>(b.daily_discharge, i, (highest - lowest) / L::all(kYearDays));
    double* const deepest = b.deepest_discharge.lane + i;
    L::store(deepest, L::most(L::load(deepest), discharge));
    L::store(b.dull_run_days.lane + i, run_days);
    double* const longest = b.longest_dull_days.lane + i;
    L::store(longest, L::most(L::load(longest), run_days));
  }
}

/// An hour of a day that is shared: the same unit offer and loads for all lanes.
template <class L>
struct SharedHour {
  const Block& block;
  double unit_offer;
  double asked;
  const Row& limit_ah;

  typename L::Value offer_ah(int i) const {
    return L::least(L::all(unit_offer) * L::load(block.offer_size.lane + i),
                    L::load(block.offer_limit.lane + i));
  }
  typename L::Value asked_ah(int) const { return L::all(asked); }
  typename L::Value charge_limit_ah(int i) const { return L::load(limit_ah.lane + i); }
};

/// An hour in which each lane has its own.
template <class L>
struct OwnHour {
  const Row& offer;
  const Row& asked;
  const Row& limit_ah;

  typename L::Value offer_ah(int i) const { return L::load(offer.lane + i); }
  typename L::Value asked_ah(int i) const { return L::load(asked.lane + i); }
  typename L::Value charge_limit_ah(int i) const { return L::load(limit_ah.lane + i); }
};

template <class L>
SharedHour<L> hour_of(const Block& b, const SharedDay& day, int h) {
  const bool frozen = day.light[h] == Light::lit_and_frozen;
  return {b, day.unit_offer[h], day.asked_ah[h], frozen ? b.frozen_limit_ah : b.charge_limit_ah};
}

template <class L>
OwnHour<L> hour_of(const Block& /*b*/, const OwnDay& day, int h) {
  return {day.offer_ah[h], day.asked_ah[h], day.charge_limit_ah[h]};
}

/// A day of either kind.
template <class L, class Day>
void run_day(Block& b, const DayShares& shares, const Day& day, Row& short_years, int lanes) {
  DayRows marks;
  set_marks<L>(b, shares, lanes, marks);
  DaySums sums;
  begin_day<L>(b, lanes, sums);
  for (int h = 0; h < kDayHours; ++h) {
    const auto hour = hour_of<L>(b, day, h);
    if (is_lit(day, h)) {
      run_lit_hour<L>(b, marks, lanes, hour, sums);
    } else {
      run_dark_hour<L>(b, marks, lanes, hour, sums);
    }
  }
  end_day<L>(b, marks, lanes, day, sums, short_years);
}

}  // namespace amptally
