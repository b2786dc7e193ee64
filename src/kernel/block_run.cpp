#include "block_run.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "core/sun_year.hpp"
#include "core/walk.hpp"
#include "lanes.hpp"

namespace amptally {
namespace {

class BlockRun {
 public:
  BlockRun(const DayKernel& kernel, std::span<const Design* const> designs, bool shared);

  /// Year `y` of each design's sky, into the year's books.
  void run_year(int y);

  /// The books of the year just run.
  [[nodiscard]] YearBalance year_of(std::size_t lane) const;
  [[nodiscard]] StateOf<double> state_of(std::size_t lane) const {
    return {block_.taken_ah.lane[lane], block_.connected.lane[lane]};
  }
  [[nodiscard]] std::optional<int> first_short_day_of(std::size_t lane) const;
  [[nodiscard]] int longest_dull_days_of(std::size_t lane) const {
    return static_cast<int>(block_.longest_dull_days.lane[lane]);
  }

  /// Forgets what was counted over the years, and keeps how the designs stand.
  void begin_count();

 private:
  void begin_year();
  void run_shared_day(std::size_t d);
  void run_own_day(std::size_t d);

  const DayKernel& kernel_;
  std::vector<const Design*> designs_;  // one a lane; unused lanes repeat the first
  bool shared_;
  int lanes_;
  Block block_{};
  std::vector<MarkLane> mark_lanes_;
  DayRows marks_{};
  OwnDay own_{};
  std::vector<Row> short_years_;         // 365
  std::vector<SharedYear> made_;         // one a sky, where its years are not kept
  std::vector<const SharedYear*> year_;  // one a lane: the year being run
};

BlockRun::BlockRun(const DayKernel& kernel, std::span<const Design* const> designs, bool shared)
    : kernel_(kernel),
      designs_(designs.begin(), designs.end()),
      shared_(shared),
      lanes_((static_cast<int>(designs.size()) + kernel.width - 1) / kernel.width * kernel.width),
      short_years_(kDaysPerYear) {
  assert(!designs.empty() && lanes_ <= kBlockLanes);
  designs_.resize(static_cast<std::size_t>(lanes_), designs.front());
  made_.resize(designs_.size());
  year_.resize(designs_.size());
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    set_lane(block_, i, *designs_[i]);
    mark_lanes_.push_back(mark_lane(*designs_[i]));
  }
}

void BlockRun::begin_count() {
  std::fill(short_years_.begin(), short_years_.end(), Row{});
  block_.dull_run_days = {};
  block_.longest_dull_days = {};
}

void BlockRun::begin_year() {
  for (Row* row :
       {&block_.charge_ah, &block_.use_ah, &block_.short_ah, &block_.short_wh, &block_.short_days,
        &block_.floor_days, &block_.deepest_discharge, &block_.daily_discharge}) {
    *row = {};
  }
}

void BlockRun::run_year(int y) {
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    // Lanes under one sky share its year.
    const auto same = std::find_if(designs_.begin(), designs_.begin() + static_cast<long>(i),
                                   [&](const Design* d) { return d->years == designs_[i]->years; });
    const auto first = static_cast<std::size_t>(same - designs_.begin());
    year_[i] = first < i ? year_[first] : &designs_[i]->years->year(y, made_[i]);
  }
  begin_year();
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    set_marks(mark_lanes_, year_, d, marks_);
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
  kernel_.shared(block_, marks_,
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
  kernel_.own(block_, marks_, own_, short_years_[d], lanes_);
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
  year.served_share = year.use_ah > 0 ? 1 - get(block_.short_ah) / year.use_ah : 1;
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

// A design's mean over the years counted so far.
struct Mean {
  YearBalance year;
  double short_days = 0;
  double floor_days = 0;

  Mean() { year.served_share = 0; }

  void add(const YearBalance& one, double n) {
    add_mean(year, one, n);
    short_days += one.shortfall_days;
    floor_days += one.floor_days;
  }

  [[nodiscard]] Outcome outcome(const BlockRun& run, std::size_t lane, const Design& design,
                                int years) {
    year.longest_dull_days = std::min(run.longest_dull_days_of(lane), kDaysPerYear * years);
    year.first_short_day = run.first_short_day_of(lane);
    return {.meets_aim = judge(year, design.aim).holds(), .year = year};
  }
};

// Whether all designs have already been short, or below the floor, on more days than all years
// together allow.
bool all_missed(std::span<const Design* const> designs, const std::vector<Mean>& means, int years) {
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const double allowed_days = designs[i]->aim.shortfall_days * years;
    if (means[i].short_days <= allowed_days && means[i].floor_days <= allowed_days) return false;
  }
  return true;
}

std::vector<Outcome> run_one_after_another(BlockRun& run, std::span<const Design* const> designs,
                                           bool only_whether) {
  const int years = designs.front()->years->count();
  std::vector<Mean> means(designs.size());
  std::vector<Outcome> outcomes(designs.size());
  run.run_year(0);  // runs in
  run.begin_count();
  for (int y = 0; y < years; ++y) {
    run.run_year(y);
    for (std::size_t i = 0; i < designs.size(); ++i) means[i].add(run.year_of(i), years);
    if (only_whether && all_missed(designs, means, years)) return outcomes;
  }
  for (std::size_t i = 0; i < designs.size(); ++i) {
    outcomes[i] = means[i].outcome(run, i, *designs[i], years);
  }
  return outcomes;
}

std::vector<Outcome> run_until_steady(BlockRun& run, std::span<const Design* const> designs) {
  const int years = designs.front()->years->count();
  std::vector<Outcome> outcomes(designs.size());
  std::vector<bool> done(designs.size(), false);
  for (int pass = 1; !std::all_of(done.begin(), done.end(), [](bool d) { return d; }); ++pass) {
    std::vector<Mean> means(designs.size());
    std::vector<StateOf<double>> before;
    for (std::size_t i = 0; i < designs.size(); ++i) before.push_back(run.state_of(i));
    run.begin_count();
    for (int y = 0; y < years; ++y) {
      run.run_year(y);
      for (std::size_t i = 0; i < designs.size(); ++i) means[i].add(run.year_of(i), years);
    }
    for (std::size_t i = 0; i < designs.size(); ++i) {
      if (done[i]) continue;
      done[i] = pass == kMostPasses ||
                is_steady(before[i], run.state_of(i), designs[i]->bank.capacity_ah);
      if (done[i]) outcomes[i] = means[i].outcome(run, i, *designs[i], years);
    }
  }
  return outcomes;
}

}  // namespace

std::vector<Outcome> run_block(const DayKernel& kernel, std::span<const Design* const> designs,
                               WeatherMode weather, bool shared, bool only_whether) {
  BlockRun run(kernel, designs, shared);
  return weather == WeatherMode::synthetic ? run_one_after_another(run, designs, only_whether)
                                           : run_until_steady(run, designs);
}

}  // namespace amptally
