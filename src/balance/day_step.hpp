#pragma once

#include "balance/hour_step.hpp"

/// A day of the balance around its hours, and the sums of days: the one definition, for one design
/// (battery_year) and for many side by side (balance/batch). Includes no library, for the reason in
/// quantity/lane_arithmetic.hpp.
namespace amptally::inline v0_1 {

inline constexpr int kDayHours = 24;

/// Days in the model's year.
inline constexpr double kYearDays = 365;

/// Below this share of the day's use a shortfall is rounding, not a thirsty plant.
inline constexpr double kRoundingShare = 1e-9;

/// A discharge this close to the floor is at it, not below: rounding.
inline constexpr double kFloorSlack = 1e-9;

/// What the sun does in an hour.
enum class Light : unsigned char { dark, lit, lit_and_frozen };

/// Which of a design's charge limits holds in an hour: one of the two given, by reference, since a
/// block's is a row of them.
template <class Limit>
AMPTALLY_INLINE const Limit& charge_limit_in(Light light, const Limit& usual, const Limit& frozen) {
  return light == Light::lit_and_frozen ? frozen : usual;
}

/// What one design keeps through the years for its days, beside its hours' constants.
template <class V>
struct DayConstantsOf {
  V capacity_ah;        ///< printed, times health
  V above_reconnect;    ///< share of what there is that may be out when the loads come back
  V cold_reconnect_ah;  ///< the reconnect mark where there is nothing
  V floor_share;        ///< a deeper discharge is below the floor
  V bank_v;
};

/// What is gathered of a day, hour by hour.
template <class V>
struct DaySumsOf {
  V charge_ah;  ///< offered
  V shortfall_ah;
  V least_taken_ah;
  V most_taken_ah;
};

/// A day in figures; what is counted is 1 or 0.
template <class V>
struct DayFiguresOf {
  V charge_ah;
  V use_ah;
  V state_of_charge_min;
  V state_of_charge_max;
  V shortfall_ah;
  V shortfall_wh;
  V is_short;
  V is_below_floor;
};

/// Figures of the days of a month or a year.
template <class V>
struct PeriodSumsOf {
  V charge_ah;
  V use_ah;
  V shortfall_ah;
  V shortfall_wh;
  V shortfall_days;
  V floor_days;
  V deepest_discharge;
  V mean_daily_discharge;  ///< as a year's: each day counts for 1/365
};

/// Days in a row that brought less than was used.
template <class V>
struct DullDaysOf {
  V so_far;  ///< up to today, years before included
  V longest;
};

/// The marks of a day.
/// @param temperature_factor  share of the capacity that there is at its temperature
template <class A>
AMPTALLY_INLINE DayMarksOf<typename A::Value> day_marks(
    const DayConstantsOf<typename A::Value>& design, typename A::Value temperature_factor) {
  const typename A::Value empty_ah = design.capacity_ah * temperature_factor;
  return {empty_ah, A::if_at_most(empty_ah, A::all(0), design.cold_reconnect_ah,
                                  empty_ah * design.above_reconnect)};
}

template <class A>
AMPTALLY_INLINE DaySumsOf<typename A::Value> begin_day(typename A::Value taken_ah) {
  return {A::all(0), A::all(0), taken_ah, taken_ah};
}

// The lowest charge is looked for when an hour with sun has drawn, the highest when it has charged,
// and both at the day's ends: in the dark a battery only empties. Charging and dark hours are given
// the one sum that they change, since the batch keeps sums in memory and would write all back.

/// `serve`, into the day's sums.
template <class A>
AMPTALLY_INLINE FlowOf<typename A::Value> serve_in_day(typename A::Value standby_ah,
                                                       const HourMarksOf<typename A::Value>& marks,
                                                       typename A::Value offer_ah,
                                                       const AskedOf<typename A::Value>& asked,
                                                       StateOf<typename A::Value>& state,
                                                       DaySumsOf<typename A::Value>& sums) {
  const FlowOf<typename A::Value> flow = serve<A>(standby_ah, marks, offer_ah, asked, state);
  sums.most_taken_ah = A::max(sums.most_taken_ah, state.taken_ah);
  sums.charge_ah = sums.charge_ah + offer_ah;
  sums.shortfall_ah = sums.shortfall_ah + flow.short_ah;
  return flow;
}

/// `charge`, into the day's sums.
template <class A>
AMPTALLY_INLINE void charge_in_day(const HourConstantsOf<typename A::Value>& bank,
                                   FlowOf<typename A::Value>& flow,
                                   StateOf<typename A::Value>& state,
                                   typename A::Value& least_taken_ah) {
  charge<A>(bank, flow, state);
  least_taken_ah = A::min(least_taken_ah, state.taken_ah);
}

/// `dark_hour`, into the day's sums.
template <class A>
AMPTALLY_INLINE FlowOf<typename A::Value> dark_hour_in_day(
    const HourConstantsOf<typename A::Value>& bank, const HourMarksOf<typename A::Value>& marks,
    typename A::Value asked_ah, StateOf<typename A::Value>& state,
    typename A::Value& shortfall_ah) {
  const FlowOf<typename A::Value> flow = dark_hour<A>(bank, marks, asked_ah, state);
  shortfall_ah = shortfall_ah + flow.short_ah;
  return flow;
}

/// @param taken_ah  at the day's end
/// @param asked_ah  by the loads, all day
template <class A>
AMPTALLY_INLINE DayFiguresOf<typename A::Value> end_day(
    const DayConstantsOf<typename A::Value>& design, const DayMarksOf<typename A::Value>& marks,
    const DaySumsOf<typename A::Value>& sums, typename A::Value taken_ah,
    typename A::Value asked_ah, typename A::Value standby_ah) {
  using V = typename A::Value;
  const V none = A::all(0);
  const V one = A::all(1);
  const V use_ah = asked_ah + A::all(kDayHours) * standby_ah;
  const V lowest = state_of_charge<A>(A::max(sums.most_taken_ah, taken_ah), marks.empty_ah);
  const V highest = state_of_charge<A>(A::min(sums.least_taken_ah, taken_ah), marks.empty_ah);
  const V shortfall_ah =
      A::if_at_most(sums.shortfall_ah, A::all(kRoundingShare) * use_ah, none, sums.shortfall_ah);
  return {sums.charge_ah,
          use_ah,
          lowest,
          highest,
          shortfall_ah,
          shortfall_ah * design.bank_v,
          A::if_at_most(shortfall_ah, none, none, one),
          A::if_at_most(one - lowest, design.floor_share + A::all(kFloorSlack), none, one)};
}

template <class A>
AMPTALLY_INLINE void add_day(PeriodSumsOf<typename A::Value>& to,
                             const DayFiguresOf<typename A::Value>& day) {
  const typename A::Value discharge = A::all(1) - day.state_of_charge_min;
  const typename A::Value range = day.state_of_charge_max - day.state_of_charge_min;
  to.charge_ah = to.charge_ah + day.charge_ah;
  to.use_ah = to.use_ah + day.use_ah;
  to.shortfall_ah = to.shortfall_ah + day.shortfall_ah;
  to.shortfall_wh = to.shortfall_wh + day.shortfall_wh;
  to.shortfall_days = to.shortfall_days + day.is_short;
  to.floor_days = to.floor_days + day.is_below_floor;
  to.deepest_discharge = A::max(to.deepest_discharge, discharge);
  to.mean_daily_discharge = to.mean_daily_discharge + range / A::all(kYearDays);
}

template <class A>
AMPTALLY_INLINE void count_dull_day(DullDaysOf<typename A::Value>& dull,
                                    const DayFiguresOf<typename A::Value>& day) {
  dull.so_far = A::if_at_most(day.use_ah, day.charge_ah, A::all(0), dull.so_far + A::all(1));
  dull.longest = A::max(dull.longest, dull.so_far);
}

}  // namespace amptally::inline v0_1
