#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/study.hpp"

/// Which of the parts on a list make the cheapest complete set.
namespace amptally::inline v0_1 {

/// A panel for sale. Of `panel` only the label counts: mounting, losses and shade are the site's.
struct PanelPart {
  std::string name;
  double price = 0;  ///< in whatever money, as all prices of a list
  Panel panel{};
};

/// A battery for sale. Of `battery` only the label counts.
struct BatteryPart {
  std::string name;
  double price = 0;
  Battery battery{};
};

struct RegulatorPart {
  std::string name;
  double price = 0;
  Regulator regulator{};
};

struct PartsList {
  std::vector<PanelPart> panels;
  std::vector<BatteryPart> batteries;
  std::vector<RegulatorPart> regulators;
  std::vector<Assumption> assumptions = {};
};

/// Parts by their place on the list, and how they are wired.
struct PartsSet {
  std::size_t panel = 0;
  std::size_t battery = 0;
  std::size_t regulator = 0;
  int panel_series = 1;
  int panel_strings = 1;
  int battery_series = 1;
  int battery_parallel = 1;
  double cost = 0;

  [[nodiscard]] int panels() const { return panel_series * panel_strings; }
  [[nodiscard]] int batteries() const { return battery_series * battery_parallel; }
};

struct JudgedSet {
  PartsSet set;
  std::optional<JudgedYear> outcome;  ///< none where a limit is broken
  std::string why_not;                ///< empty when it meets the aim

  [[nodiscard]] bool meets_aim() const { return why_not.empty(); }
};

/// Sets of each sort that are told of.
inline constexpr std::size_t kSetsShown = 10;

struct PartsChoice {
  std::vector<JudgedSet> best;  ///< that meet the aim, cheapest first; at most `kSetsShown`
  /// Sets that do not, and why: the dearest of those below the cheapest that meets it. Where none
  /// meets it, those that come nearest, the nearest first. At most `kSetsShown`.
  std::vector<JudgedSet> missed;
  std::size_t possible = 0;     ///< ways to put the list's parts together
  std::size_t evaluations = 0;  ///< runs over all years
};

/// The site with a set's parts. A battery of the site's own kind keeps the site's floor, another
/// has its kind's usual one; all are new and start as the site's does.
[[nodiscard]] Site with_parts(Site site, const PartsList& list, const PartsSet& set);

/// The cheapest sets that meet the site's aim.
///
/// Tries 1..3 panels in series by 1..6 strings, batteries in series up to the site's bank voltage
/// by 1..4 in parallel, and each regulator, by rising cost. A set that breaks a limit (cold
/// open-circuit voltage, current into the regulator or the battery, panels too low in voltage) is
/// out. One that misses the aim rules out the same parts with no more of either, one that meets it
/// the same with no less.
/// @throws InputError if no battery makes up the bank's voltage; as `simulate`
[[nodiscard]] PartsChoice choose_parts(const Site& site, const PartsList& list,
                                       const WeatherChoice& weather);

}  // namespace amptally::inline v0_1
