#include "balance/year_summary.hpp"

#include <algorithm>
#include <limits>

#include "balance/counting_rules.hpp"
#include "balance/figures.hpp"
#include "balance/year_means.hpp"
#include "place/sun_year.hpp"

namespace amptally {
namespace {

static_assert(kYearDays == kDaysPerYear);

std::array<MonthBalance, 12> by_month(const SummaryInput& input,
                                      const std::vector<DayBalance>& days) {
  std::array<MonthBalance, 12> months{};
  for (std::size_t d = 0; d < days.size(); ++d) {
    const DayBalance& day = days[d];
    MonthBalance& month = months[month_index(d)];
    month.sun_horizontal_kwh_m2_day += day.sun_horizontal_kwh_m2;
    month.sun_panel_kwh_m2_day += day.sun_panel_kwh_m2;
    month.charge_ah_day += day.charge_ah;
    const double discharge = 1 - day.state_of_charge_min;
    month.deepest_discharge = std::max(month.deepest_discharge, discharge);
    month.floor_days += discharge > input.floor_share + kFloorSlack ? 1 : 0;
    month.shortfall_days += day.shortfall_wh > 0 ? 1 : 0;
    month.shortfall_wh += day.shortfall_wh;
  }
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    MonthBalance& month = months[i];
    const double n = days_in_month(m);
    month.sun_horizontal_kwh_m2_day /= n;
    month.sun_panel_kwh_m2_day /= n;
    month.charge_ah_day /= n;
    month.air_temp_c = input.air_temp_c[i];
    month.use_ah_day = input.use_ah_day[i];
    month.autonomy_days =
        autonomy_days(*input.battery, month.air_temp_c, month.use_ah_day, input.floor_share);
  }
  return months;
}

// @param year  the figures that do not depend on the weather
YearBalance over_year(YearBalance year, const std::vector<DayBalance>& days,
                      const std::array<MonthBalance, 12>& months) {
  double shortfall_ah = 0;
  for (const DayBalance& day : days) {
    year.sun_horizontal_kwh_m2 += day.sun_horizontal_kwh_m2;
    year.sun_panel_kwh_m2 += day.sun_panel_kwh_m2;
    year.charge_ah += day.charge_ah;
    year.use_ah += day.use_ah;
    year.mean_daily_discharge += (day.state_of_charge_max - day.state_of_charge_min) / kDaysPerYear;
    year.shortfall_wh += day.shortfall_wh;
    shortfall_ah += day.shortfall_ah;
  }
  for (const MonthBalance& month : months) {
    year.deepest_discharge = std::max(year.deepest_discharge, month.deepest_discharge);
    year.floor_days += month.floor_days;
    year.shortfall_days += month.shortfall_days;
  }
  year.served_share = served_share(shortfall_ah, year.use_ah);
  year.short_year_share = year.shortfall_days > 0 ? 1 : 0;
  return year;
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

double available_ah(const Battery& battery, double temp_c, double use_ah_day) {
  return battery.bank_capacity_ah() * temperature_factor(battery_type(battery.kind), temp_c) *
         rate_factor(battery, use_ah_day / kHoursPerDay);
}

double autonomy_days(const Battery& battery, double temp_c, double use_ah_day, double floor_share) {
  if (use_ah_day <= 0) return std::numeric_limits<double>::infinity();
  return available_ah(battery, temp_c, use_ah_day) * floor_share / use_ah_day;
}

double lowest_autonomy_days(const Site& site, const Monthly& use_ah_day, double floor_share) {
  return fixed_figures({.battery = &site.battery,
                        .air_temp_c = site.place.air_temp_c,
                        .use_ah_day = use_ah_day,
                        .standby_a = 0,
                        .floor_share = floor_share})
      .autonomy_days;
}

double served_share(double short_ah, double use_ah) {
  // In a battery that dwarfs the use, what is short can be rounded to more than all of it.
  return use_ah > 0 ? std::max(1 - short_ah / use_ah, 0.0) : 1;
}

std::optional<int> first_short_day(std::span<const int> short_years) {
  const int worst = *std::max_element(short_years.begin(), short_years.end());
  if (worst == 0) return std::nullopt;
  const auto is_seldom = [&](int d) {
    return 2 * short_years[static_cast<std::size_t>(d)] < worst;
  };
  const auto n = static_cast<int>(short_years.size());
  int before = n - 1;
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

Monthly rate_factors(const Battery& battery, const Monthly& use_ah_day) {
  Monthly rates{};
  for (std::size_t m = 0; m < rates.size(); ++m) {
    rates[m] = rate_factor(battery, use_ah_day[m] / kHoursPerDay);
  }
  return rates;
}

YearBalance fixed_figures(const SummaryInput& input) {
  YearBalance year;
  year.standby_ah = input.standby_a * kHoursPerYear;
  year.autonomy_days = std::numeric_limits<double>::infinity();
  for (std::size_t m = 0; m < input.use_ah_day.size(); ++m) {
    const double days =
        autonomy_days(*input.battery, input.air_temp_c[m], input.use_ah_day[m], input.floor_share);
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
      day_sums_(kDaysPerYear, mean_start(DayBalance())),
      lowest_charge_(kDaysPerYear),
      short_years_(kDaysPerYear, 0) {}

void YearSummary::add(YearRun run) {
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    DayBalance& day = run.days[d];
    if (day.shortfall_ah <= kRoundingShare * day.use_ah) day.shortfall_ah = 0;
    day.shortfall_wh = day.shortfall_ah * input_.battery->bank_voltage_v();
    add_mean(day_sums_[d], day, 1);
    lowest_charge_[d].push_back(day.state_of_charge_min);
    short_years_[d] += day.shortfall_wh > 0 ? 1 : 0;
  }
  longest_dull_days_ = std::max(longest_dull_days_, run.longest_dull_days);
  months_.push_back(by_month(input_, run.days));
  years_.push_back(over_year(fixed_, run.days, months_.back()));
  amptally::add(ledger_, run.ledger);
  ledger_.stored_change_ah += run.ledger.stored_change_ah;
  const std::vector<Cycle> cycles = rainflow(run.state_of_charge);
  wear_ += wear(*input_.battery, cycles);
  half_depth_wear_ += wear(*input_.battery, cycles, 0.5);
}

void YearSummary::finish(Balance& balance) const {
  const auto n = static_cast<double>(years_.size());
  balance.years = static_cast<int>(years_.size());
  balance.year = mean_start(years_.front());
  for (std::size_t m = 0; m < 12; ++m) balance.months[m] = mean_start(months_.front()[m]);
  for (std::size_t y = 0; y < years_.size(); ++y) {
    add_mean(balance.year, years_[y], n);
    for (std::size_t m = 0; m < 12; ++m) add_mean(balance.months[m], months_[y][m], n);
  }
  balance.days = day_sums_;
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    DayBalance& day = balance.days[d];
    for (const auto member : kMeans<DayBalance>) day.*member /= n;
    day.state_of_charge_min = percentile(lowest_charge_[d], 0.1);
  }
  if (years_.size() > 1) balance.spread = spread_of(years_);
  balance.ledger = ledger_;
  balance.life = battery_life(*input_.battery, input_.air_temp_c, wear_ / n, half_depth_wear_ / n);
  balance.year.battery_life_years = balance.life.years;
  balance.year.longest_dull_days = std::min(longest_dull_days_, kDaysPerYear * balance.years);
  balance.year.first_short_day = first_short_day(short_years_);
}

}  // namespace amptally
