#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "balance/batch/block_fill.hpp"

namespace amptally {

/// Years that are being run: one a sky, made when it is first asked for where it is not kept.
class YearDesk {
 public:
  /// @throws DataError from `series_sun_year`
  const SharedYear& year(const SkyYears& sky, int y);

 private:
  struct Made {
    const SkyYears* sky;
    int y;
    SharedYear year;
  };
  std::vector<std::unique_ptr<Made>> made_;
};

/// Up to `kBlockLanes` designs in a block, taken through year after year, with what is counted of
/// the years.
class BlockRun {
 public:
  /// @param shared  whether all designs have one `years` and one `loads`, which is faster
  BlockRun(const DayKernel& kernel, std::span<const Design* const> designs, bool shared);

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] const Design& design(std::size_t lane) const { return *designs_[lane]; }

  /// Year `y` of each design's sky, into the year's books.
  void run_year(int y, YearDesk& desk);

  /// Forgets what was counted, and keeps how the designs stand, and for how many days it was dull.
  void begin_count();

  /// Counts the year just run as one of `years`.
  void count_year(int years);

  /// What was counted of all years.
  [[nodiscard]] JudgedYear outcome(std::size_t lane, int years) const;

  /// Whether all designs have already been short, or below the floor, on more days than all years
  /// together allow.
  [[nodiscard]] bool all_missed(int years) const;

  [[nodiscard]] StateOf<double> state(std::size_t lane) const {
    return {block_.taken_ah.lane[lane], block_.connected.lane[lane]};
  }

 private:
  struct Count {
    YearBalance mean;
    double short_days = 0;
    double floor_days = 0;
  };

  void begin_year();
  void run_shared_day(std::size_t d);
  void run_own_day(std::size_t d);
  [[nodiscard]] YearBalance year_of(std::size_t lane) const;
  [[nodiscard]] std::optional<int> first_short_day_of(std::size_t lane) const;

  const DayKernel& kernel_;
  std::size_t size_;
  std::vector<const Design*> designs_;  // one a lane; unused lanes repeat the first
  std::vector<AlikeLanes> alike_;
  bool shared_;
  int lanes_;
  Block block_{};
  std::array<Row, 12> rates_{};  // by month
  DayShares shares_{};           // of the day being run
  OwnDay own_{};
  std::vector<Row> short_years_;         // 365
  std::vector<const SharedYear*> year_;  // one a lane: the year being run
  std::vector<Count> counts_;            // one a design
};

}  // namespace amptally
