#include "balance/year_summary.hpp"

#include <algorithm>
#include <limits>

#include "balance/figures.hpp"
#include "balance/year_means.hpp"

namespace amptally::inline v0_1 {
namespace {

std::array<MonthBalance, 12> by_month(const SummaryInput& input,
                                      const std::array<Period, 12>& run) {
  std::array<MonthBalance, 12> months{};
  for (std::size_t m = 0; m < months.size(); ++m) {
    const Period& sums = run[m];
    MonthBalance& month = months[m];
    const double n = days_in_month(static_cast<int>(m));
    month.sun_horizontal_kwh_m2_day = sums.sun.horizontal_kwh_m2 / n;
    month.sun_panel_kwh_m2_day = sums.sun.panel_kwh_m2 / n;
    month.air_temp_c = input.air_temp_c[m];
    month.charge_ah_day = sums.days.charge_ah / n;
    month.use_ah_day = input.use_ah_day[m];
    month.autonomy_days =
        autonomy_days(*input.battery, month.air_temp_c, month.use_ah_day, input.autonomy_share[m]);
    month.deepest_discharge = sums.days.deepest_discharge;
    month.floor_days = sums.days.floor_days;
    month.shortfall_days = sums.days.shortfall_days;
    month.shortfall_wh = sums.days.shortfall_wh;
  }
  return months;
}

// The value below which a share of the years lie: straight between the sorted years.
double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto low = static_cast<std::size_t>(at);
  const std::size_t high = std::min(low + 1, values.size() - 1);
  // Equal ends first: with no use at all autonomy is infinite, and infinity minus itself is
  // nothing.
  if (values[low] == values[high]) return values[low];
  return values[low] + (values[high] - values[low]) * (at - static_cast<double>(low));
}

}  // namespace

Spread spread_of(const std::vector<double>& values) {
  return {.p10 = percentile(values, 0.1),
          .p50 = percentile(values, 0.5),
          .p90 = percentile(values, 0.9)};
}

YearSpread spread_of(const std::vector<YearBalance>& years) {
  YearSpread result{};
  std::vector<double> values(years.size());
  for (const auto& [spread, figure] : kSpreadFigures) {
    std::transform(years.begin(), years.end(), values.begin(),
                   [member = figure](const YearBalance& year) { return year.*member; });
    result.*spread = spread_of(values);
  }
  return result;
}

double autonomy_days(const Battery& battery, double temp_c, double use_ah_day, double share) {
  if (use_ah_day <= 0) return std::numeric_limits<double>::infinity();
  return battery.bank_capacity_ah() * temperature_factor(battery_type(battery.kind), temp_c) *
         share / use_ah_day;
}

Monthly autonomy_shares(const Site& site, const Monthly& largest_draw_a, double floor_share) {
  Monthly shares{};
  const double unfilled_share = 1 - filled_share(site);
  for (std::size_t m = 0; m < shares.size(); ++m) {
    // Most loads run alike all year.
    const bool as_before = m > 0 && largest_draw_a[m] == largest_draw_a[m - 1];
    shares[m] = as_before
                    ? shares[m - 1]
                    : std::max(std::min(floor_share, drawable_share(site, largest_draw_a[m])) -
                                   unfilled_share,
                               0.0);
  }
  return shares;
}

double lowest_autonomy_days(const Site& site, const Monthly& use_ah_day,
                            const Monthly& largest_draw_a, double floor_share) {
  return fixed_figures({.battery = &site.battery,
                        .air_temp_c = site.place.air_temp_c,
                        .use_ah_day = use_ah_day,
                        .standby_a = 0,
                        .autonomy_share = autonomy_shares(site, largest_draw_a, floor_share)})
      .autonomy_days;
}

YearBalance year_figures(const YearBalance& fixed, const Period& sums) {
  const PeriodSumsOf<double>& days = sums.days;
  YearBalance year = fixed;
  year.sun_horizontal_kwh_m2 = sums.sun.horizontal_kwh_m2;
  year.sun_panel_kwh_m2 = sums.sun.panel_kwh_m2;
  year.charge_ah = days.charge_ah;
  year.use_ah = days.use_ah;
  year.deepest_discharge = days.deepest_discharge;
  year.mean_daily_discharge = days.mean_daily_discharge;
  year.floor_days = days.floor_days;
  year.shortfall_days = days.shortfall_days;
  year.shortfall_wh = days.shortfall_wh;
  // In a battery that dwarfs the use, what is short can be rounded to more than all of it.
  year.served_share = days.use_ah > 0 ? std::max(1 - days.shortfall_ah / days.use_ah, 0.0) : 1;
  year.short_year_share = days.shortfall_days > 0 ? 1 : 0;
  return year;
}

std::optional<int> first_short_day(std::span<const int> short_years) {
  const int worst = *std::max_element(short_years.begin(), short_years.end());
  if (worst == 0) return std::nullopt;
  const auto is_seldom = [&](int d) {
    return 2 * short_years[static_cast<std::size_t>(d)] < worst;
  };
  const auto n = static_cast<int>(short_years.size());
  int before = n - 1;
  // Ends at the worst day at the latest, which is never seldom.
  while (is_seldom(before)) --before;
  before -= n;  // the last one of the year before
  int first = 0;
  int longest = 0;
  for (int d = 0; d < n; ++d) {
    if (is_seldom(d)) continue;
    if (d - before > longest) {
      longest = d - before;
      first = d;
    }
    before = d;
  }
  return first + 1;
}

void set_figures_of_all_years(YearBalance& mean, std::span<const int> short_years,
                              int longest_dull_days, int years) {
  mean.first_short_day = first_short_day(short_years);
  // A run may have begun in a pass or a run-in year before, which is the same weather again.
  mean.longest_dull_days = std::min(longest_dull_days, kDaysPerYear * years);
}

YearBalance fixed_figures(const SummaryInput& input) {
  YearBalance year;
  year.standby_ah = input.standby_a * kHoursPerYear;
  year.autonomy_days = std::numeric_limits<double>::infinity();
  for (std::size_t m = 0; m < input.use_ah_day.size(); ++m) {
    const double days = autonomy_days(*input.battery, input.air_temp_c[m], input.use_ah_day[m],
                                      input.autonomy_share[m]);
    if (days < year.autonomy_days) {
      year.autonomy_days = days;
      year.autonomy_month = static_cast<int>(m);
    }
  }
  return year;
}

YearSummary::YearSummary(const SummaryInput& input)
    : input_(input),
      fixed_(fixed_figures(input)),
      day_sums_(kDaysPerYear, sum_start(DayBalance())),
      lowest_charge_(kDaysPerYear),
      short_years_(kDaysPerYear, 0) {}

void YearSummary::add(const YearRun& run) {
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    const DayBalance& day = run.days[d];
    // A sum for now, as the number of years is only known in `finish`.
    add_to_sum(day_sums_[d], day);
    lowest_charge_[d].push_back(day.state_of_charge_min);
    short_years_[d] += day.shortfall_ah > 0 ? 1 : 0;
  }
  longest_dull_days_ = std::max(longest_dull_days_, run.longest_dull_days);
  months_.push_back(by_month(input_, run.months));
  years_.push_back(year_figures(fixed_, run.year));
  // Sums of all years, not means: who prints them divides. `add` leaves the stored change out.
  amptally::add(ledger_, run.ledger);
  ledger_.stored_change_ah += run.ledger.stored_change_ah;
  const std::vector<Cycle> cycles = rainflow(run.state_of_charge);
  wear_ += wear(*input_.battery, cycles);
  half_depth_wear_ += wear(*input_.battery, cycles, 0.5);
}

void YearSummary::finish(Balance& balance) const {
  const auto n = static_cast<double>(years_.size());
  balance.years = static_cast<int>(years_.size());
  YearBalance sum = sum_start(years_.front());
  for (const YearBalance& year : years_) add_to_sum(sum, year);
  balance.year = mean_of_sum(sum, n);
  for (std::size_t m = 0; m < balance.months.size(); ++m) {
    MonthBalance month = sum_start(months_.front()[m]);
    for (const auto& months : months_) add_to_sum(month, months[m]);
    balance.months[m] = mean_of_sum(month, n);
  }
  balance.days = day_sums_;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    DayBalance& day = balance.days[d];
    for (const auto member : kMeans<DayBalance>) day.*member /= n;
    // In place of the mean, which would hide the bad years: only one year in ten is lower.
    day.state_of_charge_min = percentile(lowest_charge_[d], 0.1);
  }
  if (years_.size() > 1) balance.spread = spread_of(years_);
  balance.ledger = ledger_;
  balance.life = battery_life(*input_.battery, input_.air_temp_c, wear_ / n, half_depth_wear_ / n);
  balance.year.battery_life_years = balance.life.years;
  set_figures_of_all_years(balance.year, short_years_, longest_dull_days_, balance.years);
}

}  // namespace amptally::inline v0_1
