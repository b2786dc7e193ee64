#pragma once

#include <array>
#include <vector>

#include "station.hpp"

/// How days, spells and years stand off the mean year, in a file and in synthetic years.
namespace weather_truth {

inline constexpr std::array<int, 5> kSpells_days = {1, 3, 7, 14, 21};

/// The sun on the level in some months of some years.
struct SunFigures {
  double spread = 0;     ///< standard deviation of a day's sun over that of the smooth mean year
  double lag_1 = 0;      ///< correlation of that with the day before
  double years_pct = 0;  ///< standard deviation of a month's mean between years; mean of months
  /// The worst so many days in a row within a month, in all years, per cent of the month's mean;
  /// mean of the months.
  std::array<double, kSpells_days.size()> worst_pct{};
};

/// A day's mean temperature.
struct AirFigures {
  double deviation_k = 0;  ///< standard, from the smooth mean year
  double lag_1 = 0;
  double frost_days = 0;  ///< a year, with a mean below 0
  double with_sun = 0;    ///< correlation with the day's sun, in the three months with least sun
};

struct DayFigures {
  const Station* station;
  SunFigures file;
  SunFigures synthetic;
  SunFigures file_dull;  ///< of the three months with least sun
  SunFigures synthetic_dull;
  AirFigures file_air;
  AirFigures synthetic_air;
};

/// Synthetic years are taken in lots of as many as the file has, since the worst of more years is
/// worse.
[[nodiscard]] DayFigures day_figures(const Station& station, const SunYears& years);

}  // namespace weather_truth
