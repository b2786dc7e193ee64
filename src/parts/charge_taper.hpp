#pragma once

#include "quantity/lane_arithmetic.hpp"

/// How a battery takes less and less of the charge as it fills.
namespace amptally::inline v0_1 {

/// How charging falls off as a bank fills: constants of the efficiency 1 - tail e^(-k x), x the
/// share of the capacity that is missing, k = 20.73 / (I/I10 + 0.55) (Copetti, Lorenzo & Chenlo
/// 1993). `charge_taper` sets them. Lithium, which takes what it gets to the end, has no tail.
template <class V>
struct TaperOf {
  V gain_a;    ///< over (A + offset), times missing Ah: k x, in units of kTaperUnit
  V offset_a;  ///< 0.55 I10
  V tail;
  V bend;
  V kept_share;   ///< of what is let in, at any charge
  V unfilled_ah;  ///< stays missing, where charging is ended before the battery is full
};

/// e^(-z) is taken as ((1 + u^2)/2)^16, u = 1 - z/16 but not below 0: within 0.001, falling, never
/// below 0. So z is counted in sixteens, and the halving is in the tail.
inline constexpr double kTaperUnit = 16;
inline constexpr double kTaperTail = 1.0 / 65536;

/// Charge stored of `given_ah` over an hour at a steady current, Ah, when `taken_ah` is missing:
/// 0 .. min(given, taken - unfilled), rising in both (in a bank rated at less than 3 h to a
/// thousandth of its capacity).
///
/// The efficiency h at the hour's start falls while the battery fills. With d = k x given/capacity,
/// the exact mean over the hour is -ln(1 - h (1 - e^-d))/d; here
/// h (1 - B d h)/(1 - B d h + (d/2 + C d^2)(1 - h)), which meets it at h = 1 and, to the first
/// order, at h = 0 and d = 0, and lies within 1.5 % of it for d up to 2.1, more than any current
/// brings into a battery rated at ten hours or longer. Fitted here, B = 0.164 (`bend`), C = 0.070;
/// docs/model.md, "Battery".
template <class A>
AMPTALLY_INLINE typename A::Value stored_of(const TaperOf<typename A::Value>& taper,
                                            typename A::Value taken_ah,
                                            typename A::Value given_ah) {
  using V = typename A::Value;
  const V one = A::all(1);
  const V rate = taper.gain_a / (given_ah + taper.offset_a);
  const V u = A::max(one - rate * taken_ah, A::all(0));
  const V p = one + u * u;
  const V p2 = p * p;
  const V p4 = p2 * p2;
  const V p8 = p4 * p4;
  const V lost = taper.tail * (p8 * p8);
  const V kept = one - lost;
  const V d = rate * given_ah;
  const V bent = one - taper.bend * d * kept;
  const V slope = d * (A::all(kTaperUnit / 2) + A::all(0.070 * kTaperUnit * kTaperUnit) * d);
  const V mean = kept * bent / (bent + slope * lost);
  const V to_fill_ah = A::max(taken_ah - taper.unfilled_ah, A::all(0));
  return A::min(given_ah * mean * taper.kept_share, to_fill_ah);
}

}  // namespace amptally::inline v0_1
