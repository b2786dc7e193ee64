#pragma once

#include <vector>

#include "year_walk.hpp"

/// From a year's hours and days to months, years, and what several years have in common.
namespace amptally {

/// Charge that a full battery gives at a temperature and a steady daily use, Ah.
[[nodiscard]] double available_ah(const Battery& battery, double temp_c, double use_ah_day);

/// What a summary needs to know of the system.
struct SummaryInput {
  const Battery* battery;
  Monthly air_temp_c;
  Monthly use_ah_day;
  double standby_a;
  double floor_share;
};

/// Takes years one by one and tells their means and their spread.
class YearSummary {
 public:
  explicit YearSummary(const SummaryInput& input);

  void add(YearRun run);

  /// Fills in what follows from the years taken; at least one.
  void finish(Balance& balance) const;

 private:
  SummaryInput input_;
  std::vector<std::array<MonthBalance, 12>> months_;
  std::vector<YearBalance> years_;
  std::vector<DayBalance> day_sums_;
  std::vector<std::vector<double>> lowest_charge_;  // day by day, one a year
  std::vector<int> short_years_;                    // day by day, years with a shortfall then
  Ledger ledger_;
  double wear_ = 0;
  double half_depth_wear_ = 0;
  int dull_run_days_ = 0;
  int longest_dull_days_ = 0;
};

}  // namespace amptally
