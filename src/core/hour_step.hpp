#pragma once

/// One hour of the balance: the one definition of a step, for one design or for as many side by
/// side as a processor's vectors hold (src/kernel).
///
/// Written with sums, products, least, most and one choice only, each rounded alike everywhere: so
/// any width of vector gives the same bits. Includes nothing, since it is also compiled for newer
/// processors than the rest of the program: an inline function of a library made there could be
/// linked into code that runs everywhere.
namespace amptally {

// A step that is called instead of inlined takes twice as long.
#define AMPTALLY_INLINE [[gnu::always_inline]] inline

/// Arithmetic on one design. Wider kinds have the same members over vectors of `kWidth` doubles.
struct OneLane {
  using Value = double;
  static constexpr int kWidth = 1;
  static Value all(double x) { return x; }
  static Value load(const double* from) { return *from; }
  static void store(double* to, Value x) { *to = x; }
  static Value least(Value a, Value b) { return a < b ? a : b; }
  static Value most(Value a, Value b) { return a > b ? a : b; }
  /// `x` where a <= b, else `y`.
  static Value where_no_more(Value a, Value b, Value x, Value y) { return a <= b ? x : y; }
  /// Whether any of the lanes is above 0.
  static bool any_positive(Value x) { return x > 0; }
};

/// How charging falls off as a bank fills: constants of the efficiency 1 - tail e^(-k x), x the
/// share of the capacity that is missing, k = 20.73 / (I/I10 + 0.55) (Copetti, Lorenzo & Chenlo
/// 1993). `charge_taper` sets them. Lithium, with a flat efficiency, has no gain.
template <class V>
struct TaperOf {
  V gain_a;    ///< over (A + offset), times missing Ah: k x, in units of kTaperUnit
  V offset_a;  ///< 0.55 I10
  V tail;
  V bend;
};

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

/// e^(-z) is taken as ((1 + u^2)/2)^16, u = 1 - z/16 but not below 0: within 0.001, falling, never
/// below 0. So z is counted in sixteens, and the halving is in the tail.
inline constexpr double kTaperUnit = 16;
inline constexpr double kTaperTail = 1.0 / 65536;

/// Charge stored of `given_ah` over an hour at a steady current, Ah, when `taken_ah` is missing:
/// 0 .. min(given, taken), rising in both (in a bank rated at less than 3 h to a thousandth of its
/// capacity).
///
/// The efficiency h at the hour's start falls while the battery fills. With d = k x given/capacity,
/// the exact mean over the hour is -ln(1 - h (1 - e^-d))/d; here
/// h (1 - B d h)/(1 - B d h + (d/2 + C d^2)(1 - h)), which meets it at h = 1 and, to the first
/// order, at h = 0 and d = 0, and lies within 1.5 % of it for d up to 2.1, more than any current
/// brings into a battery rated at ten hours or longer. Fitted here, B = 0.164 (`bend`), C = 0.070;
/// docs/model.md, "Battery".
template <class L>
AMPTALLY_INLINE typename L::Value stored_of(const TaperOf<typename L::Value>& taper,
                                            typename L::Value taken_ah,
                                            typename L::Value given_ah) {
  using V = typename L::Value;
  const V one = L::all(1);
  const V rate = taper.gain_a / (given_ah + taper.offset_a);
  const V u = L::most(one - rate * taken_ah, L::all(0));
  const V p = one + u * u;
  const V p2 = p * p;
  const V p4 = p2 * p2;
  const V p8 = p4 * p4;
  const V lost = taper.tail * (p8 * p8);
  const V kept = one - lost;
  const V d = rate * given_ah;
  const V bent = one - taper.bend * d * kept;
  const V slope = d * (L::all(kTaperUnit / 2) + L::all(0.070 * kTaperUnit * kTaperUnit) * d);
  const V mean = kept * bent / (bent + slope * lost);
  return L::least(given_ah * mean, taken_ah);
}

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
