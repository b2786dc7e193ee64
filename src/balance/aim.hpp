#pragma once

#include "amptally/balance.hpp"

/// What the grower wanted, and whether a year is it.
namespace amptally::inline v0_1 {

/// The site's aim with its defaults filled in.
[[nodiscard]] ResolvedAim resolve_aim(const Site& site, WeatherMode weather);

/// Whether a year, or the mean of several, is what the grower wanted.
struct Judgement {
  bool autonomy_met;
  bool shortfall_met;
  bool floor_met;

  [[nodiscard]] bool holds() const { return autonomy_met && shortfall_met && floor_met; }
};
[[nodiscard]] Judgement judge(const YearBalance& year, const ResolvedAim& aim);

}  // namespace amptally::inline v0_1
