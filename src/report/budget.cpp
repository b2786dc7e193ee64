#include "report/budget.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/verdict.hpp"

namespace amptally::report {
namespace {

/// A yearly sum as its mean day, the unit of the monthly columns.
double a_day(double year_sum) { return year_sum / kDaysPerYear; }

int charge_decimals(const Balance& balance) {
  double largest = 0;
  for (const MonthBalance& month : balance.months) {
    largest = std::max({largest, month.charge_ah_day, month.use_ah_day});
  }
  return decimals_for(largest);
}

std::vector<Cell> year_row(const YearBalance& year, int decimals) {
  return {word("Year"),
          number(a_day(year.sun_horizontal_kwh_m2), 2),
          number(a_day(year.sun_panel_kwh_m2), 2),
          {},
          number(a_day(year.charge_ah), decimals),
          number(a_day(year.use_ah), decimals),
          number(a_day(year.charge_ah - year.use_ah), decimals),
          number(year.autonomy_days, 1),
          percent(year.deepest_discharge),
          number(year.floor_days, 0),
          number(year.shortfall_days, 0),
          number(year.shortfall_wh, 0)};
}

Table month_table(const Balance& balance) {
  Table table{.columns = {{"Month", "", "month", Align::left},
                          {"Sun\nflat", "kWh/m²", "sun_horizontal_kwh_m2_day"},
                          {"Sun\npanel", "kWh/m²", "sun_panel_kwh_m2_day"},
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
                          number(month.floor_days, balance.years > 1 ? 1 : 0),
                          number(month.shortfall_days, balance.years > 1 ? 1 : 0),
                          number(month.shortfall_wh, 0)});
  }
  table.total = year_row(balance.year, decimals);
  return table;
}

Table day_table(const Balance& balance) {
  Table table{.columns = {{"Day", "", "day", Align::right},
                          {"Sun\npanel", "kWh/m²", "sun_panel_kwh_m2"},
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

std::string losses_text(const Ledger& ledger) {
  return fmt::format(
      "Of {} Ah a day from the panel, charging loses {} Ah, self-discharge takes {} Ah, and {} Ah "
      "are turned away because the battery cannot take them.",
      rounded(a_day(ledger.charge_ah), 2), rounded(a_day(ledger.charging_loss_ah), 2),
      rounded(a_day(ledger.self_discharge_ah), 2), rounded(a_day(ledger.turned_away_ah), 2));
}

Lead finding_lead(const Finding& finding) {
  switch (finding.level) {
    case FindingLevel::danger:
      return {"Danger: " + finding.topic, Tone::bad};
    case FindingLevel::warning:
      return {"Warning: " + finding.topic, Tone::caution};
    case FindingLevel::note:
      break;
  }
  return {"Note: " + finding.topic, Tone::plain};
}

void append_tables(Document& document, const Budget& budget) {
  document.emplace_back(Heading{"Month by month (sun, charge, use and balance per day)"});
  document.emplace_back(month_table(budget.balance));
  if (budget.daily) {
    document.emplace_back(Heading{"Day by day"});
    document.emplace_back(day_table(budget.balance));
  }
  document.emplace_back(Heading{"Where the amp-hours go"});
  if (!budget.balance.uses.empty()) document.emplace_back(use_table(budget.balance));
  document.emplace_back(Paragraph{.text = losses_text(budget.balance.ledger)});
}

Document budget_document(const Budget& budget, bool verdict_only) {
  Document document;
  for (const Paragraph& verdict : verdicts(budget.balance)) {
    document.emplace_back(verdict);
    if (verdict_only) return document;
  }
  Facts facts{site_facts(budget.site)};
  facts.lines.emplace_back("Weather",
                           "mean year: every day has its month's mean sun; runs of dull days are "
                           "what the autonomy is for");
  facts.lines.emplace_back("Parts", parts_text(budget.site));
  document.emplace_back(std::move(facts));
  append_tables(document, budget);
  if (!budget.findings.empty()) document.emplace_back(Heading{"Worth knowing"});
  for (const Finding& finding : budget.findings) {
    document.emplace_back(Advice{finding_lead(finding), finding.text, finding.source});
  }
  append_bullets(document, "Not given, so assumed", budget.balance.assumptions);
  append_bullets(document, "Rough numbers", rough_texts(budget.site.rough));
  document.emplace_back(
      Paragraph{.text = "A reckoning, not an inspection: local electrical codes and licensed "
                        "practice have the last word."});
  return document;
}

}  // namespace

std::string budget_report(const Budget& budget, const Look& look) {
  switch (look.format) {
    case Format::json:
      return budget_json(budget);
    case Format::csv:
      return table_csv(budget.daily ? day_table(budget.balance) : month_table(budget.balance));
    case Format::md:
      return document_markdown(budget_document(budget, look.quiet));
    case Format::table:
      break;
  }
  return document_text(budget_document(budget, look.quiet), look);
}

}  // namespace amptally::report
