#pragma once

#include <array>
#include <span>
#include <vector>

#include "balance/batch/block_fill.hpp"

namespace amptally::inline v0_1 {

/// Up to `kBlockLanes` designs in a block, run through year after year, with the mean of those
/// years that are counted: those run in are not.
class BlockSimulation {
 public:
  /// @param designs  must outlive this
  /// @param shared  whether all designs have one `years` and one `loads`, which is faster
  BlockSimulation(const DayKernel& kernel, std::span<const Design* const> designs, bool shared);

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] const Design& design(std::size_t lane) const { return *designs_[lane]; }

  /// Runs year `y` of each design's sky, into the sums of the year.
  void run_year(int y, LatestYears& years);

  /// Lets the designs whose battery has a `start` of its own stand at it again.
  void go_back_to_given_starts();

  /// Forgets what was counted, and keeps how the designs stand, and for how many days it was dull.
  void begin_count();

  /// Counts the year just run.
  void count_year();

  /// What was counted of all years.
  [[nodiscard]] JudgedYear outcome(std::size_t lane, int years) const;

  /// Whether all designs have already been short, or below the floor, on more days than all years
  /// together allow.
  [[nodiscard]] bool all_missed(int years) const;

  [[nodiscard]] StateOf<double> state(std::size_t lane) const {
    return {block_.state.taken_ah.lane[lane], block_.state.connected.lane[lane]};
  }

 private:
  void run_shared_day(std::size_t d);
  void run_own_day(std::size_t d);
  [[nodiscard]] YearBalance year_of(std::size_t lane) const;
  [[nodiscard]] std::array<int, kDaysPerYear> short_years_of(std::size_t lane) const;

  const DayKernel& kernel_;
  std::size_t size_;
  std::vector<const Design*> designs_;  // one a lane; unused lanes repeat the first
  std::vector<AlikeLanes> alike_;
  bool shared_;
  int lanes_;
  Block block_{};
  std::vector<Row> drawable_;  // shared loads: one for each of their draws
  Row temperature_factor_{};   // of the day being run
  OwnDay own_{};
  std::vector<Row> short_years_;          // 365
  std::vector<const WeatherYear*> year_;  // one a lane: the year being run
  std::vector<YearBalance> sums_;         // one a design: of the years counted
};

}  // namespace amptally::inline v0_1
