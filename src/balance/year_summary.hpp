#pragma once

#include <optional>
#include <span>
#include <vector>

#include "balance/battery_year.hpp"

/// From a year's hours and days to months, years, and what several years have in common.
namespace amptally::inline v0_1 {

/// Days that a share of the charge there is at a temperature carries the daily use; infinite where
/// nothing is used.
[[nodiscard]] double autonomy_days(const Battery& battery, double temp_c, double use_ah_day,
                                   double share);

/// Share of the charge there is that each month's use may take out of the full battery: down to the
/// floor, or to where the largest draw of the month gets no more, if that comes first.
[[nodiscard]] Monthly autonomy_shares(const Site& site, const Monthly& largest_draw_a,
                                      double floor_share);

/// The least of the months' autonomies, days.
[[nodiscard]] double lowest_autonomy_days(const Site& site, const Monthly& use_ah_day,
                                          const Monthly& largest_draw_a, double floor_share);

/// Tenths and middle of some values (at least one): straight between the sorted ones.
[[nodiscard]] Spread spread_of(const std::vector<double>& values);
/// The same of some years' figures.
[[nodiscard]] YearSpread spread_of(const std::vector<YearBalance>& years);

/// What a summary needs to know of the system.
struct SummaryInput {
  const Battery* battery;
  Monthly air_temp_c;
  Monthly use_ah_day;
  double standby_a;
  Monthly autonomy_share;  ///< see `autonomy_shares`
};

/// A year's figures that its weather does not change: autonomy and standby.
[[nodiscard]] YearBalance fixed_figures(const SummaryInput& input);

/// A year in figures.
/// @param fixed  those that its weather does not change
[[nodiscard]] YearBalance year_figures(const YearBalance& fixed, const Period& sums);

/// The day, 1..365, that opens the short season: the day after the longest unbroken run of days
/// that are seldom short, the year taken as a ring. Seldom: in less than half as many years as the
/// worst day. Unset where no day is ever short.
/// @param short_years  365: years in which the day was short
[[nodiscard]] std::optional<int> first_short_day(std::span<const int> short_years);

/// Adds to the mean of some years what can only be said of all of them together.
/// @param short_years  as for `first_short_day`
/// @param longest_dull_days  with what came of them from before the first year
void set_figures_of_all_years(YearBalance& mean, std::span<const int> short_years,
                              int longest_dull_days, int years);

/// Takes years one by one and tells their means and their spread.
class YearSummary {
 public:
  explicit YearSummary(const SummaryInput& input);

  void add(const YearRun& run);

  /// Fills in what follows from the years taken; at least one.
  void finish(Balance& balance) const;

 private:
  SummaryInput input_;
  YearBalance fixed_;
  std::vector<std::array<MonthBalance, 12>> months_;
  std::vector<YearBalance> years_;
  std::vector<DayBalance> day_sums_;
  std::vector<std::vector<double>> lowest_charge_;  // day by day, one a year
  std::vector<int> short_years_;                    // day by day, years with a shortfall then
  Ledger ledger_;
  double wear_ = 0;
  double half_depth_wear_ = 0;
  int longest_dull_days_ = 0;
};

}  // namespace amptally::inline v0_1
