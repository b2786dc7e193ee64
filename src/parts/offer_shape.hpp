#pragma once

#include <vector>

#include "amptally/site.hpp"
#include "amptally/weather.hpp"

/// The offer of `charge_offer` taken apart, so that many designs can share what is alike in theirs.
namespace amptally::inline v0_1 {

/// What decides how sun becomes charge, whatever the sizes: two sites that share it are offered
/// currents that differ by a factor and a limit only.
struct OfferShape {
  bool converts;  ///< mppt
  double noct_c;
  // With a converter:
  double temp_coeff_power_pct_k;
  // Without: the label of a panel of 1 A short-circuit current, and the voltage it is held at.
  double vmp_v;
  double imp_a;
  double voc_v;
  double temp_coeff_voc_pct_k;
  double held_at_v;

  bool operator==(const OfferShape&) const = default;
};

/// Label figures are taken to a billionth: a label and the same label in another size share their
/// shape to the last bit.
[[nodiscard]] OfferShape offer_shape(const Site& site);

/// What the shape's currents are multiplied by: with a converter, the watts of all panels after
/// losses over the charging voltage, A; without, their short-circuit current after losses, over
/// 1 A.
[[nodiscard]] double offer_size(const Site& site);

/// The largest current that the regulator lets through, A; infinite where it has no limit.
[[nodiscard]] double offer_limit_a(const Site& site);

/// Hourly currents of a shape, for a size of 1 and before any limit, 8,760.
///
/// mppt: G/1000 (1 + coefficient (Tc - 25)). pwm and none: the panel curve's at `held_at_v`.
[[nodiscard]] std::vector<double> unit_offer(const OfferShape& shape, const SunYear& year);

}  // namespace amptally::inline v0_1
