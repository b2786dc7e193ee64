#pragma once

#include <array>
#include <string>
#include <vector>

#include "balance/batch/block_fill.hpp"

namespace amptally::bench {

/// Variants of a site, panel and battery spread over a factor of ten.
[[nodiscard]] std::vector<Site> spread_sizes(const Site& site, int count);

/// Such variants, ready to be run, and the first synthetic year of their sky.
struct Variants {
  Variants(const Site& site, int count);
  Variants(const Variants&) = delete;  // the years point at the weather
  Variants& operator=(const Variants&) = delete;

  WeatherChoice weather;
  std::shared_ptr<const WeatherCache> years;
  std::shared_ptr<const SharedLoads> loads;
  std::vector<Design> designs;
};

/// What the year leaves, of some designs together.
struct Totals {
  double taken_ah = 0;  ///< out of the batteries at the end
  double short_ah = 0;  ///< asked and not served
};

/// Days of up to `kBlockLanes` designs straight through a kernel, without what a study does around
/// it.
class DayWalk {
 public:
  /// @param designs  of one `Variants`, which must outlive this
  explicit DayWalk(std::span<const Design> designs);

  /// Goes on from where the last run ended.
  void run(const DayKernel& kernel, int days);

  [[nodiscard]] Totals totals() const;

 private:
  std::span<const Design> designs_;
  Block block_{};
  Row temperature_factor_{};
  std::vector<Row> drawable_;  // one for each of the loads' draws
  Row short_years_{};
  const WeatherYear* year_;
  std::vector<AlikeLanes> alike_;
  std::vector<const Design*> lane_designs_;     // one a lane
  std::vector<const WeatherYear*> lane_years_;  // one a lane
};

/// The variants' year and figures as text, a line an hour, a day and a design, for programs in
/// other languages to walk through.
[[nodiscard]] std::string same_step_input(const Variants& variants);

}  // namespace amptally::bench
