#pragma once

#include <array>
#include <string_view>

#include "amptally/balance.hpp"

namespace amptally::report {

inline constexpr std::string_view kLifeKey = "battery_life_years";

/// One figure of a year, as machines get it.
struct YearFigure {
  std::string_view key;
  double value = 0;       ///< not finite: there is none
  bool is_whole = false;  ///< a whole number by its nature
};

/// All figures of a year, in the order of docs/outputs.md.
[[nodiscard]] std::array<YearFigure, 17> year_figures(const YearBalance& year);

}  // namespace amptally::report
