#pragma once

#include <optional>

#include "amptally/study.hpp"

/// Does one more load fit?
namespace amptally::inline v0_1 {

inline constexpr int kMostCopies = 1000;

/// How much of the last of the new loads would fit, the others being there.
struct FitRoom {
  std::optional<int> minutes_per_day;  ///< most whole ones, 0..1440; unset if it is always on
  int copies = 0;                      ///< most of them with the minutes it has, 0..kMostCopies
};

struct Fit {
  bool fits = false;  ///< the aim is met with all new loads
  Balance before;
  Balance after;
  FitRoom room;
};

/// Whether a site's aim is still met with its last `added` loads, and for how much of the last.
///
/// @param with   the site with the new loads, last in `loads`
/// @param added  how many of them are new, 1 .. loads.size()
/// @param weather  the same for before and after; synthetic weather is made once
/// @throws InputError if `added` is out of range; as `simulate`
[[nodiscard]] Fit fit_loads(const Site& with, std::size_t added, const WeatherChoice& weather);

}  // namespace amptally::inline v0_1
