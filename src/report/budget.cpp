#include "report/budget.hpp"

#include <utility>

#include <fmt/format.h>

#include "report/chart.hpp"
#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"
#include "report/verdict.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

std::string spells_text(const Balance& balance) {
  return fmt::format(
      "{} changeable {}: dull and clear spells by chance, around the months' means "
      "(seed {})",
      balance.years, balance.years > 1 ? "years" : "year", balance.seed);
}

/// One line for each weather.
Document verdict_lines(const Budget& budget) {
  Document document;
  document.emplace_back(verdicts(budget.balance).front());
  if (budget.changeable != nullptr) {
    document.emplace_back(verdicts(*budget.changeable, false).front());
  }
  return document;
}

void append_chart(Document& document, const Balance& balance, const OutputStyle& style) {
  std::string caption = "Charge left over the year, each column its lowest day";
  if (differs_by_tenths(balance)) {
    caption += fmt::format("; one {}year in ten goes below this", sort_of_year(balance.weather));
  } else if (balance.years > 1) {
    caption += fmt::format("; near the lowest of the {} years", balance.years);
  }
  document.emplace_back(Paragraph{.text = caption + ":"});
  document.emplace_back(Drawing{charge_strip(balance.days, 1 - balance.aim.floor_share, style)});
}

void append_tables(Document& document, const Budget& budget) {
  document.emplace_back(Heading{months_heading(budget.balance)});
  document.emplace_back(month_table(budget.balance));
  document.emplace_back(Paragraph{.text = months_legend(budget.balance)});
  if (const Balance& years = budget.most_variable(); differs_by_tenths(years)) {
    document.emplace_back(Heading{
        fmt::format("How the {} {}years differ", years.years, sort_of_year(years.weather))});
    document.emplace_back(spread_table(*years.spread));
  }
  if (budget.daily) {
    document.emplace_back(Heading{"Day by day"});
    document.emplace_back(day_table(budget.balance));
  }
  document.emplace_back(Heading{"Where the amp-hours go"});
  if (!budget.balance.uses.empty()) document.emplace_back(use_table(budget.balance));
  document.emplace_back(Paragraph{.text = losses_text(budget.balance)});
}

Document budget_document(const Budget& budget, const OutputStyle& style) {
  if (style.quiet) return verdict_lines(budget);
  Document document;
  append_verdicts(document, budget);
  if (style.chart) append_chart(document, budget.most_variable(), style);
  Facts facts{site_facts(budget.site)};
  facts.lines.emplace_back("Weather", weather_text(budget));
  facts.lines.emplace_back("Parts", parts_text(budget.site));
  document.emplace_back(std::move(facts));
  append_tables(document, budget);
  append_findings(document, budget.findings);
  append_assumptions(document, budget.balance.assumptions);
  append_rough(document, budget.site, budget.rough);
  document.emplace_back(last_word());
  return document;
}

}  // namespace

std::string weather_text(const Budget& budget) {
  const Balance& balance = budget.balance;
  if (balance.weather == WeatherMode::synthetic) return spells_text(balance);
  if (balance.weather == WeatherMode::file) {
    return fmt::format("{} of {}",
                       balance.years > 1 ? fmt::format("{} years", balance.years) : "1 year",
                       budget.weather_file);
  }
  const std::string mean = "mean year: every day has its month's mean sun";
  if (budget.changeable != nullptr) return mean + "; and " + spells_text(*budget.changeable);
  return mean + "; runs of dull days are what the autonomy is for";
}

void append_verdicts(Document& document, const Budget& budget) {
  const auto append = [&document](const std::vector<Paragraph>& paragraphs) {
    document.insert(document.end(), paragraphs.begin(), paragraphs.end());
  };
  append(verdicts(budget.balance));
  if (budget.changeable != nullptr) append(verdicts(*budget.changeable, false));
  append(cases_verdict(budget.rough));
  append(outlook(budget.most_variable()));
}

std::string budget_report(const Budget& budget, const OutputStyle& style) {
  return in_form(
      style, [&] { return budget_json(budget); },
      [&] {
        return table_csv(budget.daily ? day_table(budget.balance) : month_table(budget.balance));
      },
      [&] { return budget_document(budget, style); });
}

}  // namespace amptally::report
