#include "balance/batch/block_simulation.hpp"

#include <algorithm>
#include <array>
#include <cassert>

#include "balance/aim.hpp"
#include "balance/year_means.hpp"
#include "balance/year_sequence.hpp"
#include "parts/sized_offer.hpp"
#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {

BlockSimulation::BlockSimulation(const DayKernel& kernel, std::span<const Design* const> designs,
                                 bool shared)
    : kernel_(kernel),
      size_(designs.size()),
      designs_(designs.begin(), designs.end()),
      shared_(shared),
      lanes_((static_cast<int>(designs.size()) + kernel.width - 1) / kernel.width * kernel.width),
      short_years_(kDaysPerYear) {
  assert(!designs.empty() && lanes_ <= kBlockLanes);
  designs_.resize(static_cast<std::size_t>(lanes_), designs.front());
  alike_ = alike_lanes(designs_);
  year_.resize(designs_.size());
  for (std::size_t i = 0; i < designs_.size(); ++i) set_lane(block_, i, *designs_[i]);
  if (shared_) drawable_ = drawable_rows(designs_);
}

void BlockSimulation::go_back_to_given_starts() {
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    const Design& design = *designs_[i];
    if (!design.battery.start_share) continue;
    block_.state.taken_ah.lane[i] = design.start.taken_ah;
    block_.state.connected.lane[i] = design.start.connected;
    block_.dull.so_far.lane[i] = 0;
  }
}

void BlockSimulation::begin_count() {
  std::fill(short_years_.begin(), short_years_.end(), Row{});
  block_.dull.longest = {};
  sums_.clear();
  for (std::size_t i = 0; i < size_; ++i) sums_.push_back(sum_start(designs_[i]->fixed));
}

void BlockSimulation::run_year(int y, LatestYears& years) {
  for (const AlikeLanes& run : alike_) {
    const WeatherYear& year = years.year(*designs_[run.begin]->years, y);
    for (std::size_t i = run.begin; i < run.end; ++i) year_[i] = &year;
  }
  block_.year = {};
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    set_temperature_factors(designs_, alike_, year_, d, temperature_factor_);
    if (shared_) {
      run_shared_day(d);
    } else {
      run_own_day(d);
    }
  }
}

void BlockSimulation::run_shared_day(std::size_t d) {
  const SharedLoads& loads = *designs_.front()->loads;
  const WeatherYear& year = *year_.front();
  const std::size_t h = d * kHoursPerDay;
  kernel_.shared(block_, temperature_factor_,
                 {.unit_offer = &year.unit_offer[h],
                  .asked_ah = &loads.profile.asked_ah[h],
                  .run_ah = &loads.profile.run_ah[h],
                  .run_share = &loads.profile.run_share[h],
                  .light = &year.light[h],
                  .draw_of_hour = &loads.profile.draw_of_hour[h],
                  .drawable_share = drawable_.data(),
                  .asked_day_ah = loads.asked_day_ah[d]},
                 short_years_[d], lanes_);
}

void BlockSimulation::run_own_day(std::size_t d) {
  std::fill(std::begin(own_.lit), std::end(own_.lit), false);
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    const WeatherYear& year = *year_[i];
    const SharedLoads& loads = *designs_[i]->loads;
    own_.asked_day_ah.lane[i] = loads.asked_day_ah[d];
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      const std::size_t at = d * kHoursPerDay + h;
      own_.asked_ah[h].lane[i] = loads.profile.asked_ah[at];
      own_.run_ah[h].lane[i] = loads.profile.run_ah[at];
      own_.run_share[h].lane[i] = loads.profile.run_share[at];
      own_.drawable_share[h].lane[i] =
          designs_[i]->bank.drawable_share[loads.profile.draw_of_hour[at]];
      own_.offer_ah[h].lane[i] =
          sized_offer<ScalarArithmetic>(year.unit_offer[at], block_.offer_size.lane[i],
                                        block_.offer_limit.lane[i])
              .current_a;
      own_.charge_limit_ah[h].lane[i] = charge_limit_in(
          year.light[at], block_.hourly.charge_limit_ah.lane[i], block_.frozen_limit_ah.lane[i]);
      // An hour that is lit for one is gone through as lit for all: with nothing offered that comes
      // to the same as a dark hour (balance/hour_step.hpp).
      own_.lit[h] = own_.lit[h] || year.light[at] != Light::dark;
    }
  }
  kernel_.own(block_, temperature_factor_, own_, short_years_[d], lanes_);
}

YearBalance BlockSimulation::year_of(std::size_t lane) const {
  const auto get = [&](const Row& row) { return row.lane[lane]; };
  const PeriodSumsOf<Row>& year = block_.year;
  return year_figures(designs_[lane]->fixed,
                      {.sun = year_[lane]->sun,
                       .days = {.charge_ah = get(year.charge_ah),
                                .use_ah = get(year.use_ah),
                                .shortfall_ah = get(year.shortfall_ah),
                                .shortfall_wh = get(year.shortfall_wh),
                                .shortfall_days = get(year.shortfall_days),
                                .floor_days = get(year.floor_days),
                                .deepest_discharge = get(year.deepest_discharge),
                                .mean_daily_discharge = get(year.mean_daily_discharge)}});
}

std::array<int, kDaysPerYear> BlockSimulation::short_years_of(std::size_t lane) const {
  std::array<int, kDaysPerYear> years{};
  for (std::size_t d = 0; d < years.size(); ++d) {
    years[d] = static_cast<int>(short_years_[d].lane[lane]);
  }
  return years;
}

void BlockSimulation::count_year() {
  for (std::size_t i = 0; i < size_; ++i) add_to_sum(sums_[i], year_of(i));
}

JudgedYear BlockSimulation::outcome(std::size_t lane, int years) const {
  YearBalance year = mean_of_sum(sums_[lane], years);
  set_figures_of_all_years(year, short_years_of(lane),
                           static_cast<int>(block_.dull.longest.lane[lane]), years);
  return {.met = judge(year, designs_[lane]->aim), .year = year};
}

bool BlockSimulation::all_missed(int years) const {
  for (std::size_t i = 0; i < size_; ++i) {
    // Autonomy is not looked at: designs that miss it are not run where only this is asked
    // (UncheckedStudy::meets).
    const YearBalance year = mean_of_sum(sums_[i], years);
    const Judgement judged = judge(year, designs_[i]->aim);
    if (judged.shortfall_met && judged.floor_met) return false;
  }
  return true;
}

}  // namespace amptally::inline v0_1
