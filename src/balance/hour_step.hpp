#pragma once

#include "parts/charge_taper.hpp"

/// One hour of the balance: the one definition of a step, for one design or for as many side by
/// side as a processor's vectors hold (balance/batch).
namespace amptally {

/// What one design keeps through the years; charge in Ah, one hour's.
template <class V>
struct BankOf {
  V standby_ah;
  V kept_share;       ///< of what has been taken out, by an hour of self-discharge: 1 - its share
  V drift_ah;         ///< self-discharge of a full battery
  V charge_limit_ah;  ///< into the battery
  TaperOf<V> taper;
};

/// Marks of one day, as charge taken out of a full battery, Ah.
template <class V>
struct DayMarksOf {
  V empty_ah;      ///< all that can be had at the day's temperature and rate
  V cutoff_ah;     ///< loads are not drawn beyond it
  V reconnect_ah;  ///< loads that were cut off come back at it
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

/// Takes from the battery what the sun left over: standby first, down to empty, then the loads,
/// down to the cutoff, which opens where they go without.
/// @return what could not be had
template <class L>
AMPTALLY_INLINE typename L::Value draw(const DayMarksOf<typename L::Value>& marks,
                                       typename L::Value standby_ah, typename L::Value load_ah,
                                       StateOf<typename L::Value>& state) {
  using V = typename L::Value;
  const V with_standby = state.taken_ah + standby_ah;
  const V after_standby = L::least(with_standby, L::most(state.taken_ah, marks.empty_ah));
  const V with_all = with_standby + load_ah;
  // Loads that are cut off can draw down to full, which is not at all.
  const V loads_down_to = state.connected * marks.cutoff_ah;
  state.taken_ah = L::least(with_all, L::most(after_standby, loads_down_to));
  state.connected = L::where_no_more(with_all, state.taken_ah, state.connected, L::all(0));
  return with_all - state.taken_ah;
}

/// Loads come back at the reconnect mark.
template <class L>
AMPTALLY_INLINE void reconnect(const DayMarksOf<typename L::Value>& marks,
                               StateOf<typename L::Value>& state) {
  state.connected =
      L::where_no_more(state.taken_ah, marks.reconnect_ah, L::all(1), state.connected);
}

/// @return what was lost
template <class L>
AMPTALLY_INLINE typename L::Value self_discharge(const BankOf<typename L::Value>& bank,
                                                 StateOf<typename L::Value>& state) {
  const typename L::Value before_ah = state.taken_ah;
  state.taken_ah = before_ah * bank.kept_share + bank.drift_ah;
  return state.taken_ah - before_ah;
}

/// An hour without sun, the same as `lit_hour` with nothing offered: it takes out of the battery,
/// never puts in.
template <class L>
AMPTALLY_INLINE FlowOf<typename L::Value> dark_hour(const BankOf<typename L::Value>& bank,
                                                    const DayMarksOf<typename L::Value>& marks,
                                                    typename L::Value asked_ah,
                                                    StateOf<typename L::Value>& state) {
  using V = typename L::Value;
  reconnect<L>(marks, state);
  const V short_ah = draw<L>(marks, bank.standby_ah, asked_ah, state);
  const V lost_ah = self_discharge<L>(bank, state);
  const V none = L::all(0);
  return {short_ah, none, none, none, lost_ah};
}

/// An hour with sun, first half: what is offered serves standby, then the loads that are on; the
/// battery gives what is wanting.
/// @return the shortfall and the surplus
template <class L>
AMPTALLY_INLINE FlowOf<typename L::Value> serve(typename L::Value standby_ah,
                                                const DayMarksOf<typename L::Value>& marks,
                                                typename L::Value offer_ah,
                                                typename L::Value asked_ah,
                                                StateOf<typename L::Value>& state) {
  using V = typename L::Value;
  const V none = L::all(0);
  reconnect<L>(marks, state);
  const V beyond_standby = offer_ah - standby_ah;
  const V for_loads = L::most(beyond_standby, none);
  const V standby_left = L::most(beyond_standby * L::all(-1), none);
  const V load_left = L::most(asked_ah - state.connected * for_loads, none);
  const V surplus_ah = L::most(for_loads - state.connected * asked_ah, none);
  return {draw<L>(marks, standby_left, load_left, state), surplus_ah, none, none, none};
}

/// Second half: the surplus charges the battery.
template <class L>
AMPTALLY_INLINE void charge(const BankOf<typename L::Value>& bank, FlowOf<typename L::Value>& flow,
                            StateOf<typename L::Value>& state) {
  if (L::any_positive(flow.surplus_ah)) {
    flow.given_ah = L::least(flow.surplus_ah, bank.charge_limit_ah);
    flow.stored_ah = stored_of<L>(bank.taper, state.taken_ah, flow.given_ah);
    state.taken_ah = state.taken_ah - flow.stored_ah;
  }
  flow.self_discharge_ah = self_discharge<L>(bank, state);
}

/// An hour with sun.
template <class L>
AMPTALLY_INLINE FlowOf<typename L::Value> lit_hour(const BankOf<typename L::Value>& bank,
                                                   const DayMarksOf<typename L::Value>& marks,
                                                   typename L::Value offer_ah,
                                                   typename L::Value asked_ah,
                                                   StateOf<typename L::Value>& state) {
  FlowOf<typename L::Value> flow = serve<L>(bank.standby_ah, marks, offer_ah, asked_ah, state);
  charge<L>(bank, flow, state);
  return flow;
}

/// State of charge, 0..1, with `taken_ah` out of the `empty_ah` that can be had; 0 where nothing
/// can, and in a battery that cooled after it was emptied.
template <class L>
AMPTALLY_INLINE typename L::Value state_of_charge(typename L::Value taken_ah,
                                                  typename L::Value empty_ah) {
  return L::most(L::all(1) - taken_ah / empty_ah, L::all(0));
}

}  // namespace amptally
