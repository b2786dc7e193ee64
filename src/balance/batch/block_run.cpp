#include "balance/batch/block_run.hpp"

#include <algorithm>
#include <array>
#include <cassert>

#include "balance/aim.hpp"
#include "balance/year_means.hpp"
#include "balance/year_sequence.hpp"
#include "place/sun_year.hpp"

namespace amptally {

static_assert(kDayHours == kHoursPerDay);

const SharedYear& YearDesk::year(const SkyYears& sky, int y) {
  if (const SharedYear* kept = sky.kept(y)) return *kept;
  const auto found = std::find_if(made_.rbegin(), made_.rend(),
                                  [&](const auto& made) { return made->sky == &sky; });
  if (found == made_.rend()) {
    made_.push_back(std::make_unique<Made>(Made{&sky, y, sky.make(y)}));
    return made_.back()->year;
  }
  Made& made = **found;
  if (made.y != y) {
    made.year = sky.make(y);
    made.y = y;
  }
  return made.year;
}

BlockRun::BlockRun(const DayKernel& kernel, std::span<const Design* const> designs, bool shared)
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
  set_rates(designs_, rates_);
}

void BlockRun::begin_count() {
  std::fill(short_years_.begin(), short_years_.end(), Row{});
  block_.longest_dull_days = {};
  counts_.assign(size_, {});
  for (std::size_t i = 0; i < size_; ++i) counts_[i].mean = mean_start(designs_[i]->fixed);
}

void BlockRun::begin_year() {
  for (Row* row :
       {&block_.charge_ah, &block_.use_ah, &block_.short_ah, &block_.short_wh, &block_.short_days,
        &block_.floor_days, &block_.deepest_discharge, &block_.daily_discharge}) {
    *row = {};
  }
}

void BlockRun::run_year(int y, YearDesk& desk) {
  for (const AlikeLanes& run : alike_) {
    const SharedYear& year = desk.year(*designs_[run.begin]->years, y);
    for (std::size_t i = run.begin; i < run.end; ++i) year_[i] = &year;
  }
  begin_year();
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    set_temperature_factors(designs_, alike_, year_, d, shares_.temperature_factor);
    shares_.rate_factor = &rates_[month_index(d)];
    if (shared_) {
      run_shared_day(d);
    } else {
      run_own_day(d);
    }
  }
}

void BlockRun::run_shared_day(std::size_t d) {
  const SharedLoads& loads = *designs_.front()->loads;
  const SharedYear& year = *year_.front();
  const std::size_t h = d * kHoursPerDay;
  kernel_.shared(block_, shares_,
                 {.unit_offer = &year.unit_offer[h],
                  .asked_ah = &loads.profile.asked_ah[h],
                  .light = &year.light[h],
                  .asked_day_ah = loads.asked_day_ah[d]},
                 short_years_[d], lanes_);
}

void BlockRun::run_own_day(std::size_t d) {
  std::fill(std::begin(own_.lit), std::end(own_.lit), false);
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    const SharedYear& year = *year_[i];
    const SharedLoads& loads = *designs_[i]->loads;
    own_.asked_day_ah.lane[i] = loads.asked_day_ah[d];
    for (std::size_t h = 0; h < kHoursPerDay; ++h) {
      const std::size_t at = d * kHoursPerDay + h;
      own_.asked_ah[h].lane[i] = loads.profile.asked_ah[at];
      own_.offer_ah[h].lane[i] = OneLane::least(year.unit_offer[at] * block_.offer_size.lane[i],
                                                block_.offer_limit.lane[i]);
      own_.charge_limit_ah[h].lane[i] = year.light[at] == Light::lit_and_frozen
                                            ? block_.frozen_limit_ah.lane[i]
                                            : block_.charge_limit_ah.lane[i];
      own_.lit[h] = own_.lit[h] || year.light[at] != Light::dark;
    }
  }
  kernel_.own(block_, shares_, own_, short_years_[d], lanes_);
}

YearBalance BlockRun::year_of(std::size_t lane) const {
  const auto get = [&](const Row& row) { return row.lane[lane]; };
  YearBalance year = designs_[lane]->fixed;
  year.sun_horizontal_kwh_m2 = year_[lane]->sun_horizontal_kwh_m2;
  year.sun_panel_kwh_m2 = year_[lane]->sun_panel_kwh_m2;
  year.charge_ah = get(block_.charge_ah);
  year.use_ah = get(block_.use_ah);
  year.deepest_discharge = get(block_.deepest_discharge);
  year.mean_daily_discharge = get(block_.daily_discharge);
  year.floor_days = get(block_.floor_days);
  year.shortfall_days = get(block_.short_days);
  year.shortfall_wh = get(block_.short_wh);
  year.served_share = served_share(get(block_.short_ah), year.use_ah);
  year.short_year_share = year.shortfall_days > 0 ? 1 : 0;
  return year;
}

std::optional<int> BlockRun::first_short_day_of(std::size_t lane) const {
  std::array<int, kDaysPerYear> years{};
  for (std::size_t d = 0; d < years.size(); ++d) {
    years[d] = static_cast<int>(short_years_[d].lane[lane]);
  }
  return first_short_day(years);
}

void BlockRun::count_year(int years) {
  for (std::size_t i = 0; i < size_; ++i) {
    const YearBalance year = year_of(i);
    add_mean(counts_[i].mean, year, years);
    counts_[i].short_days += year.shortfall_days;
    counts_[i].floor_days += year.floor_days;
  }
}

JudgedYear BlockRun::outcome(std::size_t lane, int years) const {
  YearBalance year = counts_[lane].mean;
  year.longest_dull_days =
      std::min(static_cast<int>(block_.longest_dull_days.lane[lane]), kDaysPerYear * years);
  year.first_short_day = first_short_day_of(lane);
  return {.meets_aim = judge(year, designs_[lane]->aim).holds(), .year = year};
}

bool BlockRun::all_missed(int years) const {
  for (std::size_t i = 0; i < size_; ++i) {
    const double allowed_days = designs_[i]->aim.shortfall_days * years;
    if (counts_[i].short_days <= allowed_days && counts_[i].floor_days <= allowed_days) {
      return false;
    }
  }
  return true;
}

}  // namespace amptally
