#pragma once

#include <string>
#include <variant>
#include <vector>

#include "amptally/balance.hpp"

/// Which single change would help.
namespace amptally::inline v0_1 {

/// What a lever is set to: a number in the lever's unit, or a kind of regulator.
using LeverValue = std::variant<double, RegulatorKind>;

/// One quantity changed, all else as it is.
struct Lever {
  /// Dotted path; `panel.shade` for all obstacles, `loads[0].runs` for all runs.
  std::string field;
  std::string unit;  ///< of the values; "%" for a share, kept as 0..1; empty for a kind
  LeverValue now;
  LeverValue to;             ///< the nearest figure that meets the aim, or the furthest tried
  bool reaches_aim = false;  ///< whether `to` meets the aim
  bool helps = false;        ///< whether `to` betters a figure whose aim is missed
  double change_share = 0;   ///< size of the change over `now`; see `study_levers`
  YearBalance year = {};     ///< with `to`, as `JudgedYear::year`
};

/// What a site lacks, and each change that could mend it alone.
struct LeverStudy {
  Balance now;
  std::vector<Lever> levers = {};  ///< empty where the aim is met
};

/// The single changes: panel power (at most 8 times as much), tilt, losses (at least 3 %), shade,
/// battery capacity (at most 10 times as much), the regulator's standby and kind, each load's
/// minutes a day and draw. The limits are chosen: beyond them it would be another system.
///
/// A figure is the first of a row of steps that meets the aim: the numbers of two significant
/// figures between now and the limit, whole per cent and whole degrees. The step before it does not
/// meet the aim. It is found by quartering the row, which takes for granted that more of the change
/// never hurts; tilt is first taken to where the year goes best, looked for every ten degrees and
/// closer and closer around the best.
///
/// Levers that reach the aim come first, the smallest change first: the difference over the value
/// now, for tilt over 90 degrees; another kind of regulator counts as 1. Then the others, the most
/// helpful first. A quantity at its limit already, or a tilt that is the best already, is left out.
/// @throws as `simulate`
[[nodiscard]] LeverStudy study_levers(const Site& site, const WeatherChoice& weather);

}  // namespace amptally::inline v0_1
