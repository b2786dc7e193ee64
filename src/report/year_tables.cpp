#include "report/year_tables.hpp"

#include <algorithm>

#include <fmt/format.h>

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

/// Decimals of a count of days: a mean over years is seldom whole.
int count_decimals(const Balance& balance) { return balance.years > 1 ? 1 : 0; }

std::vector<Cell> year_row(const Balance& balance, int decimals) {
  const YearBalance& year = balance.year;
  return {word("Year"),
          number(a_day(year.sun_horizontal_kwh_m2), 2),
          number(a_day(year.sun_panel_kwh_m2), 2),
          {},
          number(a_day(year.charge_ah), decimals),
          number(a_day(year.use_ah), decimals),
          number(a_day(year.charge_ah - year.use_ah), decimals),
          number(year.autonomy_days, 1),
          percent(year.deepest_discharge),
          number(year.floor_days, count_decimals(balance)),
          number(year.shortfall_days, count_decimals(balance)),
          number(year.shortfall_wh, 0)};
}

}  // namespace

double a_day(double year_sum) { return year_sum / kDaysPerYear; }

const char* sort_of_year(WeatherMode weather) {
  return weather == WeatherMode::synthetic ? "changeable " : "";
}

Table month_table(const Balance& balance) {
  Table table{.columns = {{"Month", "", "month", Align::left},
                          {"Sun on\nground", "kWh/m²", "sun_horizontal_kwh_m2_day"},
                          {"Sun on\npanel", "kWh/m²", "sun_panel_kwh_m2_day"},
                          {"Air", "°C", "air_temp_c"},
                          {"Charge", "Ah", "charge_ah_day"},
                          {"Use", "Ah", "use_ah_day"},
                          {"Balance", "Ah", "balance_ah_day"},
                          {"Autonomy", "days", "autonomy_days"},
                          {"Deepest\ntaken", "%", "deepest_discharge"},
                          {"Below\nfloor", "days", "floor_days"},
                          {"Short", "days", "shortfall_days"},
                          {"Not\nserved", "Wh", "shortfall_wh"}},
              .rows = {}};
  const int decimals = charge_decimals(balance);
  for (int i = 0; i < 12; ++i) {
    const MonthBalance& month = balance.months[static_cast<std::size_t>(i)];
    table.rows.push_back({{std::string(month_name(i).substr(0, 3)), fmt::format("{}", i + 1)},
                          number(month.sun_horizontal_kwh_m2_day, 2),
                          number(month.sun_panel_kwh_m2_day, 2),
                          number(month.air_temp_c, 0),
                          number(month.charge_ah_day, decimals),
                          number(month.use_ah_day, decimals),
                          number(month.balance_ah_day(), decimals),
                          number(month.autonomy_days, 1),
                          percent(month.deepest_discharge),
                          number(month.floor_days, count_decimals(balance)),
                          number(month.shortfall_days, count_decimals(balance)),
                          number(month.shortfall_wh, 0)});
  }
  table.total = year_row(balance, decimals);
  return table;
}

Table day_table(const Balance& balance) {
  Table table{.columns = {{"Day", "", "day", Align::right},
                          {"Sun on\npanel", "kWh/m²", "sun_panel_kwh_m2"},
                          {"Charge", "Ah", "charge_ah"},
                          {"Use", "Ah", "use_ah"},
                          {"Lowest\ncharge left", "%", "state_of_charge_min"},
                          {"Charge left\nat midnight", "%", "state_of_charge_end"},
                          {"Not\nserved", "Wh", "shortfall_wh"}},
              .rows = {}};
  const int decimals = charge_decimals(balance);
  int date = 1;
  for (const DayBalance& day : balance.days) {
    table.rows.push_back({{date_text(date, true), fmt::format("{}", date)},
                          number(day.sun_panel_kwh_m2, 2),
                          number(day.charge_ah, decimals),
                          number(day.use_ah, decimals),
                          percent(day.state_of_charge_min),
                          percent(day.state_of_charge_end),
                          number(day.shortfall_wh, 1)});
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
  const auto add = [&table](const char* name, const Spread& figure, int decimals,
                            double scale = 1) {
    table.rows.push_back({word(name), number(scale * figure.p10, decimals),
                          number(scale * figure.p50, decimals),
                          number(scale * figure.p90, decimals)});
  };
  add("Short days", spread.shortfall_days, 0);
  add("Not served, Wh", spread.shortfall_wh, 0);
  add("Deepest taken, %", spread.deepest_discharge, 0, 100);
  add("Served, %", spread.served_share, 1, 100);
  add("Autonomy, days", spread.autonomy_days, 1);
  return table;
}

std::string losses_text(const Balance& balance) {
  const Ledger& ledger = balance.ledger;
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
