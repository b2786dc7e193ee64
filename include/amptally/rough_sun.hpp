#pragma once

#include <array>

#include "amptally/balance.hpp"
#include "amptally/rough.hpp"

/// What a site's rough numbers leave open of its sun.
namespace amptally::inline v0_1 {

/// A site's mean year of sun over all its rough numbers and the shipped sun's own error.
struct RoughSun {
  int cases = 0;
  double climate_error_share = 0;  ///< rms error of the shipped sun that counted; 0: left out
  std::array<Spread, 12> sun_horizontal_kwh_m2_day{};
  std::array<Spread, 12> sun_panel_kwh_m2_day{};
  Spread panel_year_kwh_m2{};
};

/// The sun of a site at the combinations of `study_rough`.
[[nodiscard]] RoughSun study_rough_sun(const Site& site, const RoughOptions& options = {});

}  // namespace amptally::inline v0_1
