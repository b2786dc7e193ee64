#include "balance/batch/batch_simulation.hpp"

#include <algorithm>

#include "balance/batch/block_simulation.hpp"
#include "balance/year_sequence.hpp"

namespace amptally::inline v0_1 {
namespace {

std::vector<BlockSimulation> blocks_of(const DayKernel& kernel,
                                       std::span<const Design* const> designs, bool shared) {
  std::vector<BlockSimulation> blocks;
  for (std::size_t from = 0; from < designs.size(); from += kBlockLanes) {
    const std::size_t count = std::min<std::size_t>(kBlockLanes, designs.size() - from);
    blocks.emplace_back(kernel, designs.subspan(from, count), shared);
  }
  return blocks;
}

// Designs of all blocks one after the other.
std::vector<JudgedYear> outcomes_of(const std::vector<BlockSimulation>& blocks, int years) {
  std::vector<JudgedYear> outcomes;
  for (const BlockSimulation& block : blocks) {
    for (std::size_t i = 0; i < block.size(); ++i) outcomes.push_back(block.outcome(i, years));
  }
  return outcomes;
}

std::vector<JudgedYear> run_synthetic_years(std::vector<BlockSimulation>& blocks, int years,
                                            bool only_whether) {
  LatestYears latest;
  for (BlockSimulation& block : blocks) {
    block.run_year(0, latest);  // runs in
    block.go_back_to_given_starts();
    block.begin_count();
  }
  for (int y = 0; y < years; ++y) {
    for (BlockSimulation& block : blocks) {
      // Relies on `outcome` to find the aim missed without the years left out: the days counted
      // so far are too many already, and those years could only add to them.
      if (only_whether && block.all_missed(years)) continue;
      block.run_year(y, latest);
      block.count_year();
    }
  }
  return outcomes_of(blocks, years);
}

// One pass over all years. Each design's outcome is that of the pass in which it turns steady.
void run_pass(BlockSimulation& block, int years, int pass, LatestYears& latest,
              std::vector<bool>& done, std::span<JudgedYear> outcomes) {
  std::vector<StateOf<double>> before;
  for (std::size_t i = 0; i < block.size(); ++i) before.push_back(block.state(i));
  block.begin_count();
  for (int y = 0; y < years; ++y) {
    block.run_year(y, latest);
    block.count_year();
  }
  for (std::size_t i = 0; i < block.size(); ++i) {
    // Lanes that are done run on beside the others; what comes of them is not looked at.
    if (done[i]) continue;
    done[i] = is_last_pass(pass, before[i], block.state(i), block.design(i).bank.daily.capacity_ah);
    if (done[i]) outcomes[i] = block.outcome(i, years);
  }
}

std::vector<JudgedYear> run_until_steady(std::vector<BlockSimulation>& blocks, int years,
                                         std::size_t designs) {
  LatestYears latest;
  std::vector<JudgedYear> outcomes(designs);
  std::span<JudgedYear> left = outcomes;
  for (BlockSimulation& block : blocks) {
    std::vector<bool> done(block.size(), false);
    for (int pass = 1; !std::all_of(done.begin(), done.end(), [](bool d) { return d; }); ++pass) {
      run_pass(block, years, pass, latest, done, left.first(block.size()));
    }
    left = left.subspan(block.size());
  }
  return outcomes;
}

}  // namespace

std::vector<JudgedYear> simulate_batch(const DayKernel& kernel,
                                       std::span<const Design* const> designs, WeatherMode weather,
                                       bool shared, bool only_whether) {
  std::vector<BlockSimulation> blocks = blocks_of(kernel, designs, shared);
  const int years = designs.front()->years->count();
  return weather == WeatherMode::synthetic ? run_synthetic_years(blocks, years, only_whether)
                                           : run_until_steady(blocks, years, designs.size());
}

}  // namespace amptally::inline v0_1
