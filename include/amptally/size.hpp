#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/study.hpp"
#include "amptally/worksheet.hpp"

/// What panel and battery to buy.
namespace amptally::inline v0_1 {

/// In whatever money. The defaults are an invented ratio, to be replaced by what shops ask.
struct Prices {
  double panel_per_w = 1;
  double battery_per_ah = 2.5;  ///< of 12 V battery: 12 Wh
};

struct SizeRequest {
  Prices prices = {};
  bool try_tilts = false;  ///< else the panel keeps its tilt
};

/// Panels and batteries of a size, wired as in the site.
struct Sizes {
  double panel_each_w = 0;
  int panel_count = 1;
  double battery_each_ah = 0;
  int battery_parallel = 1;
  double tilt_deg = 0;

  [[nodiscard]] double panel_power_w() const { return panel_each_w * panel_count; }
  /// Printed capacity of the bank.
  [[nodiscard]] double battery_capacity_ah() const { return battery_each_ah * battery_parallel; }
};

/// The site with these sizes; the label's currents and a charge-current limit of the battery's own
/// grow in proportion.
[[nodiscard]] Site with_sizes(Site site, const Sizes& sizes);

struct SizedPair {
  Sizes sizes;
  double cost = 0;
  JudgedYear outcome;
};

struct Sizing {
  /// The trade-off: pairs that meet the aim, of which neither part can be a step smaller. Panels
  /// grow, batteries shrink.
  std::vector<SizedPair> line;
  std::optional<SizedPair> best;     ///< the cheapest of the line; none where nothing meets the aim
  std::optional<SizedPair> as_sold;  ///< the cheapest in usual sizes; unset where none will do
  SizedPair largest;                 ///< the largest pair that was tried
  std::vector<double> panel_steps_w;     ///< sizes that were tried, each panel, rising
  std::vector<double> battery_steps_ah;  ///< each battery, rising
  std::vector<double> tilts_deg;         ///< that were tried; the result has the cheapest
  Worksheet worksheet;                   ///< the hand method, at the tilt of the result
  ResolvedAim aim;
  int evaluations = 0;  ///< runs of a variant over all years, in all tilts

  /// The pair to buy, if any.
  [[nodiscard]] const std::optional<SizedPair>& to_buy() const { return as_sold ? as_sold : best; }
};

/// The cheapest panel and battery that meet the site's aim.
///
/// Looks through 40 panel powers, from 0.6 of what the mean year's sun would carry to 8 times the
/// worksheet's, by 40 battery capacities, from the smallest that meets the autonomy aim to 30 times
/// that: sizes in geometric steps, rounded up to three figures. A larger panel needs no larger
/// battery, so the edge between the pairs that meet the aim and those that do not is followed from
/// step to step. Around the cheapest step twenty by twenty more are looked through, less than a
/// hundredth apart; what costs more than three times the cheapest is left out. Best and as sold
/// hold in the mean year too.
/// @throws ModelError if nothing draws from the battery or no sun reaches the panel;
///   as `simulate`
[[nodiscard]] Sizing size_site(const Site& site, const WeatherChoice& weather,
                               const SizeRequest& request = {});

/// What of its aim a system misses, gravest first, in a few words: "short on 23 days a year";
/// empty when it meets all.
[[nodiscard]] std::string why_missed(const YearBalance& year, const ResolvedAim& aim);

/// What the hand method starts from at this site.
///
/// The battery gives back 90 % of the amp-hours (lead-acid; common practice, no source) or its
/// type's flat share.
[[nodiscard]] WorksheetInput worksheet_input(const Site& site, const Simulation& prepared,
                                             const ResolvedAim& aim);

}  // namespace amptally::inline v0_1
