#pragma once

#include "quantity/lane_arithmetic.hpp"

namespace amptally::inline v0_1 {

/// What panels and regulator offer in an hour, A.
template <class V>
struct SizedOfferOf {
  V current_a;
  V clipped_a;  ///< refused by the regulator's limit
};

/// The offer of a shape's unit current in one size: see `OfferShape`.
template <class A>
AMPTALLY_INLINE SizedOfferOf<typename A::Value> sized_offer(typename A::Value unit_a,
                                                            typename A::Value size,
                                                            typename A::Value limit_a) {
  const typename A::Value unlimited_a = unit_a * size;
  const typename A::Value current_a = A::min(unlimited_a, limit_a);
  return {current_a, unlimited_a - current_a};
}

}  // namespace amptally::inline v0_1
