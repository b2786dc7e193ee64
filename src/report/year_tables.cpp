#include "report/year_tables.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "report/figure_cells.hpp"
#include "report/labels.hpp"

namespace amptally::report {
namespace {

int charge_decimals(const Balance& balance) {
  double largest = 0;
  for (const MonthBalance& month : balance.months) {
    largest = std::max({largest, month.charge_ah_day, month.use_ah_day});
  }
  return decimals_for(largest);
}

Decimals decimals_of(const Balance& balance) {
  return {.charge = charge_decimals(balance), .days = balance.years > 1 ? 1 : 0};
}

std::vector<Cell> year_row(const YearBalance& year, const Decimals& decimals) {
  std::vector<Cell> row = {word("Year")};
  for (const Figure<MonthBalance>& figure : kMonthFigures) {
    if (figure.head.empty()) continue;
    Cell& cell = row.emplace_back();
    if (!figure.total.value) continue;
    const double value = value_in(year, *figure.total.value);
    cell = figure_cell(figure.total.as_mean_day ? a_day(value) : value, figure.rounding, decimals);
  }
  return row;
}

}  // namespace

double a_day(double year_sum) { return year_sum / kDaysPerYear; }

const char* sort_of_year(WeatherMode weather) {
  return weather == WeatherMode::synthetic ? "changeable " : "";
}

Table month_table(const Balance& balance) {
  const Decimals decimals = decimals_of(balance);
  Table table{.columns = {{"Month", "", "month", Align::left}}, .rows = {}};
  append_columns(table, kMonthFigures);
  for (int i = 0; i < 12; ++i) {
    std::vector<Cell>& row = table.rows.emplace_back();
    row.push_back({std::string(month_name(i).substr(0, 3)), fmt::format("{}", i + 1)});
    append_cells(row, kMonthFigures, balance.months[static_cast<std::size_t>(i)], decimals);
  }
  table.total = year_row(balance.year, decimals);
  return table;
}

Table day_table(const Balance& balance) {
  const Decimals decimals = decimals_of(balance);
  Table table{.columns = {{"Day", "", "day", Align::right}}, .rows = {}};
  append_columns(table, kDayFigures);
  int date = 1;
  for (const DayBalance& day : balance.days) {
    std::vector<Cell>& row = table.rows.emplace_back();
    row.push_back({date_text(date, true), fmt::format("{}", date)});
    append_cells(row, kDayFigures, day, decimals);
    ++date;
  }
  return table;
}

Table use_table(const Balance& balance) {
  double largest = 0;
  for (const Use& use : balance.uses) largest = std::max({largest, use.ah_day, use.wh_day});
  const int decimals = decimals_for(largest);
  Table table{.columns = {{"Asked for by", "", "", Align::left},
                          {"Charge", "Ah/day", ""},
                          {"Energy", "Wh/day", ""},
                          {"Share", "%", ""}},
              .rows = {}};
  for (const Use& use : balance.uses) {
    table.rows.push_back({word(use.name), number(use.ah_day, std::max(decimals, 1)),
                          number(use.wh_day, decimals), percent(use.share)});
  }
  return table;
}

Table spread_table(const YearSpread& spread) {
  Table table{.columns = {{"In a year", "", "", Align::left},
                          {"One year in ten\nbelow", "", ""},
                          {"Middle\nyear", "", ""},
                          {"One year in ten\nabove", "", ""}},
              .rows = {}};
  for (const SpreadFigure& told : kSpreadFigures) {
    const Figure<YearBalance>& figure = year_figure(told.figure);
    const Spread& values = spread.*told.spread;
    std::vector<Cell>& row = table.rows.emplace_back();
    row.push_back(word(line_name(figure)));
    for (const double value : {values.p10, values.p50, values.p90}) {
      row.push_back(figure_cell(value, figure.rounding, {.days = 0}));
    }
  }
  return table;
}

std::string losses_text(const Balance& balance) {
  const Ledger& ledger = balance.ledger;
  // The ledger has sums of all years.
  const auto per_day = [&balance](double sum) { return rounded(a_day(sum) / balance.years, 2); };
  return fmt::format(
      "Of {} Ah a day from the panel, charging loses {} Ah, self-discharge takes {} Ah, and {} Ah "
      "are turned away because the battery cannot take them.",
      per_day(ledger.charge_ah), per_day(ledger.charging_loss_ah),
      per_day(ledger.self_discharge_ah), per_day(ledger.turned_away_ah));
}

std::string months_heading(const Balance& balance) {
  const std::string years = balance.years > 1 ? fmt::format("; means of {} years", balance.years)
                            : balance.weather == WeatherMode::mean ? "; mean year"
                                                                   : "";
  return "Month by month (sun, charge, use and balance per day" + years + ")";
}

std::string months_legend(const Balance& balance) {
  return fmt::format(
      "Autonomy: days without sun that the full battery carries until {0:.0f} % are taken out. "
      "Deepest taken: most taken out of the battery, 100 % is empty. Below floor: days with more "
      "than {0:.0f} % taken out. Short: days on which a load got less than it asked for, which is "
      "Not served.",
      100 * balance.aim.floor_share);
}

}  // namespace amptally::report
