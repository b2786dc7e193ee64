#include "balance/batch/batch_simulation.hpp"

#include <algorithm>

#include "balance/batch/block_run.hpp"
#include "balance/year_sequence.hpp"

namespace amptally {
namespace {

std::vector<BlockRun> blocks_of(const DayKernel& kernel, std::span<const Design* const> designs,
                                bool shared) {
  std::vector<BlockRun> blocks;
  for (std::size_t from = 0; from < designs.size(); from += kBlockLanes) {
    const std::size_t count = std::min<std::size_t>(kBlockLanes, designs.size() - from);
    blocks.emplace_back(kernel, designs.subspan(from, count), shared);
  }
  return blocks;
}

// Designs of all blocks one after the other.
std::vector<JudgedYear> outcomes_of(const std::vector<BlockRun>& blocks, int years) {
  std::vector<JudgedYear> outcomes;
  for (const BlockRun& block : blocks) {
    for (std::size_t i = 0; i < block.size(); ++i) outcomes.push_back(block.outcome(i, years));
  }
  return outcomes;
}

std::vector<JudgedYear> run_one_after_another(std::vector<BlockRun>& blocks, int years,
                                              bool only_whether) {
  YearDesk desk;
  for (BlockRun& block : blocks) {
    block.run_year(0, desk);  // runs in
    block.begin_count();
  }
  for (int y = 0; y < years; ++y) {
    for (BlockRun& block : blocks) {
      if (only_whether && block.all_missed(years)) continue;
      block.run_year(y, desk);
      block.count_year(years);
    }
  }
  return outcomes_of(blocks, years);
}

// One pass over all years. Each design's outcome is that of the pass in which it turns steady.
void run_pass(BlockRun& block, int years, bool is_last, YearDesk& desk, std::vector<bool>& done,
              std::span<JudgedYear> outcomes) {
  std::vector<StateOf<double>> before;
  for (std::size_t i = 0; i < block.size(); ++i) before.push_back(block.state(i));
  block.begin_count();
  for (int y = 0; y < years; ++y) {
    block.run_year(y, desk);
    block.count_year(years);
  }
  for (std::size_t i = 0; i < block.size(); ++i) {
    if (done[i]) continue;
    done[i] = is_last || is_steady(before[i], block.state(i), block.design(i).bank.capacity_ah);
    if (done[i]) outcomes[i] = block.outcome(i, years);
  }
}

std::vector<JudgedYear> run_until_steady(std::vector<BlockRun>& blocks, int years,
                                         std::size_t designs) {
  YearDesk desk;
  std::vector<JudgedYear> outcomes(designs);
  std::span<JudgedYear> left = outcomes;
  for (BlockRun& block : blocks) {
    std::vector<bool> done(block.size(), false);
    for (int pass = 1; !std::all_of(done.begin(), done.end(), [](bool d) { return d; }); ++pass) {
      run_pass(block, years, pass == kMostPasses, desk, done, left.first(block.size()));
    }
    left = left.subspan(block.size());
  }
  return outcomes;
}

}  // namespace

std::vector<JudgedYear> run_together(const DayKernel& kernel,
                                     std::span<const Design* const> designs, WeatherMode weather,
                                     bool shared, bool only_whether) {
  std::vector<BlockRun> blocks = blocks_of(kernel, designs, shared);
  const int years = designs.front()->years->count();
  return weather == WeatherMode::synthetic ? run_one_after_another(blocks, years, only_whether)
                                           : run_until_steady(blocks, years, designs.size());
}

}  // namespace amptally
