#pragma once

#include "amptally/balance.hpp"

/// What the grower wanted, and whether a year is it.
namespace amptally::inline v0_1 {

/// The site's aim with its defaults filled in.
[[nodiscard]] ResolvedAim resolve_aim(const Site& site, WeatherMode weather);

/// Whether a year, or the mean of several, is what the grower wanted.
[[nodiscard]] Judgement judge(const YearBalance& year, const ResolvedAim& aim);

}  // namespace amptally::inline v0_1
