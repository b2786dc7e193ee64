#pragma once

#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/water.hpp"

namespace amptally::inline v0_1 {

enum class FindingLevel { danger, warning, note };

/// One thing a careful friend would point out.
struct Finding {
  FindingLevel level;
  std::string topic;   ///< a few plain words, e.g. "standby draw"
  std::string field;   ///< site field it is about, dotted; may be empty
  std::string text;    ///< the reason and the figure, one or two sentences
  std::string source;  ///< of the rule: a publication, or "common practice, no source"
};

/// All findings over a site and its year: dangers first, then warnings, then notes.
[[nodiscard]] std::vector<Finding> site_findings(const Site& site, const Simulation& simulation);

/// Those of them about what was given, which need no year: figures so unusual that another unit was
/// likely meant, and a sun from far away.
[[nodiscard]] std::vector<Finding> input_findings(const Site& site);

/// Those of them about voltage to touch, cables, fuses and water near wires.
/// @param prepared  its balance is not looked at
[[nodiscard]] std::vector<Finding> wiring_findings(const Site& site, const Simulation& prepared);

/// What a careful friend would point out about the water, dangers first.
[[nodiscard]] std::vector<Finding> water_findings(const Site& site, const WaterStudy& study);

}  // namespace amptally::inline v0_1
