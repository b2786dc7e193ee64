#pragma once

#include "parts/charge_taper.hpp"

/// One hour of the balance: the one definition of a step, for one design or for as many side by
/// side as a processor's vectors hold (balance/batch).
namespace amptally::inline v0_1 {

/// What one design keeps through the years for its hours; charge in Ah, one hour's.
template <class V>
struct HourConstantsOf {
  V standby_ah;
  V kept_share;       ///< of what has been taken out, by an hour of self-discharge: 1 - its share
  V drift_ah;         ///< self-discharge of a full battery
  V charge_limit_ah;  ///< into the battery
  TaperOf<V> taper;
};

/// Marks of one day, as charge taken out of a full battery, Ah.
template <class V>
struct DayMarksOf {
  V empty_ah;      ///< all there is at the day's temperature
  V reconnect_ah;  ///< loads that were cut off come back at it; infinite where nothing cuts off
};

/// Marks of one hour. The draw of its loads decides how far they can empty the battery: by the
/// current that flows while they run, not by the hour's mean.
template <class V>
struct HourMarksOf {
  V empty_ah;
  V drawable_ah;  ///< loads get nothing beyond it: the cutoff opens, or the battery is flat to them
  V reconnect_ah;
};

/// @param drawable_share  of what there is, at the draw of the hour's loads
template <class A>
AMPTALLY_INLINE HourMarksOf<typename A::Value> hour_marks(const DayMarksOf<typename A::Value>& day,
                                                          typename A::Value drawable_share) {
  return {day.empty_ah, day.empty_ah * drawable_share, day.reconnect_ah};
}

/// What the loads of an hour ask for. Those that run for a part of it run at its start, all at
/// once; then the sun has the rest of the hour to put back what they took.
template <class V>
struct AskedOf {
  V all_ah;
  V run_ah;     ///< of that, while they run
  V run_share;  ///< of the hour; 0 where the same current flows all hour
};

/// What goes from hour to hour. Charge is kept as what has been taken out of a full battery.
template <class V>
struct StateOf {
  V taken_ah;
  V connected;  ///< 1, or 0 while the loads are cut off
};

/// Where an hour's charge went, Ah.
template <class V>
struct FlowOf {
  V short_ah;    ///< asked by loads and standby, not served
  V surplus_ah;  ///< offered beyond what was asked
  V given_ah;    ///< of the surplus, let into the battery's terminals
  V stored_ah;   ///< of that, kept
  V self_discharge_ah;
};

/// Takes from the battery what the sun left over: standby first, down to empty, then the loads, as
/// far as they can draw it down; where they go without, they are cut off.
/// @return what could not be had
template <class A>
AMPTALLY_INLINE typename A::Value draw(const HourMarksOf<typename A::Value>& marks,
                                       typename A::Value standby_ah, typename A::Value load_ah,
                                       StateOf<typename A::Value>& state) {
  using V = typename A::Value;
  const V with_standby = state.taken_ah + standby_ah;
  const V after_standby = A::min(with_standby, A::max(state.taken_ah, marks.empty_ah));
  const V with_all = with_standby + load_ah;
  // Loads that are cut off can draw down to full, which is not at all.
  const V loads_down_to = state.connected * marks.drawable_ah;
  state.taken_ah = A::min(with_all, A::max(after_standby, loads_down_to));
  state.connected = A::if_at_most(with_all, state.taken_ah, state.connected, A::all(0));
  return with_all - state.taken_ah;
}

/// Loads come back at the reconnect mark; at once where nothing cuts off.
template <class A>
AMPTALLY_INLINE void reconnect(const HourMarksOf<typename A::Value>& marks,
                               StateOf<typename A::Value>& state) {
  state.connected = A::if_at_most(state.taken_ah, marks.reconnect_ah, A::all(1), state.connected);
}

/// @return what was lost
template <class A>
AMPTALLY_INLINE typename A::Value self_discharge(const HourConstantsOf<typename A::Value>& bank,
                                                 StateOf<typename A::Value>& state) {
  const typename A::Value before_ah = state.taken_ah;
  state.taken_ah = before_ah * bank.kept_share + bank.drift_ah;
  return state.taken_ah - before_ah;
}

/// An hour without sun, the same as `serve` and `charge` with nothing offered: it takes out of the
/// battery, never puts in.
template <class A>
AMPTALLY_INLINE FlowOf<typename A::Value> dark_hour(const HourConstantsOf<typename A::Value>& bank,
                                                    const HourMarksOf<typename A::Value>& marks,
                                                    typename A::Value asked_ah,
                                                    StateOf<typename A::Value>& state) {
  using V = typename A::Value;
  reconnect<A>(marks, state);
  const V short_ah = draw<A>(marks, bank.standby_ah, asked_ah, state);
  const V lost_ah = self_discharge<A>(bank, state);
  const V none = A::all(0);
  return {short_ah, none, none, none, lost_ah};
}

/// An hour with sun, first half: what is offered serves standby, then the loads that are on; the
/// battery gives what is wanting. The sun is steady over the hour, the loads are not: what it lacks
/// while they run comes out of the battery, and as much of it as the sun has to spare in the rest
/// of the hour is surplus.
/// @return the shortfall and the surplus
template <class A>
AMPTALLY_INLINE FlowOf<typename A::Value> serve(typename A::Value standby_ah,
                                                const HourMarksOf<typename A::Value>& marks,
                                                typename A::Value offer_ah,
                                                const AskedOf<typename A::Value>& asked,
                                                StateOf<typename A::Value>& state) {
  using V = typename A::Value;
  const V none = A::all(0);
  reconnect<A>(marks, state);
  const V beyond_standby = offer_ah - standby_ah;
  const V for_loads = A::max(beyond_standby, none);
  const V standby_left = A::max(beyond_standby * A::all(-1), none);
  const V lacking = asked.run_ah - asked.run_share * for_loads;
  const V spare_after = lacking + (for_loads - asked.all_ah);
  const V put_back = state.connected * A::max(A::min(lacking, spare_after), none);
  const V load_left = A::max(asked.all_ah - state.connected * for_loads, none) + put_back;
  const V surplus_ah = A::max(for_loads - state.connected * asked.all_ah, none) + put_back;
  return {draw<A>(marks, standby_left, load_left, state), surplus_ah, none, none, none};
}

/// Second half: the surplus charges the battery.
template <class A>
AMPTALLY_INLINE void charge(const HourConstantsOf<typename A::Value>& bank,
                            FlowOf<typename A::Value>& flow, StateOf<typename A::Value>& state) {
  if (A::any_positive(flow.surplus_ah)) {
    flow.given_ah = A::min(flow.surplus_ah, bank.charge_limit_ah);
    flow.stored_ah = stored_of<A>(bank.taper, state.taken_ah, flow.given_ah);
    state.taken_ah = state.taken_ah - flow.stored_ah;
  }
  flow.self_discharge_ah = self_discharge<A>(bank, state);
}

/// State of charge, 0..1, with `taken_ah` out of the `empty_ah` that can be had; 0 where nothing
/// can, and in a battery that cooled after it was emptied.
template <class A>
AMPTALLY_INLINE typename A::Value state_of_charge(typename A::Value taken_ah,
                                                  typename A::Value empty_ah) {
  return A::max(A::all(1) - taken_ah / empty_ah, A::all(0));
}

}  // namespace amptally::inline v0_1
