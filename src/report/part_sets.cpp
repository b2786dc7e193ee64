#include "report/part_sets.hpp"

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"

namespace amptally::report {
namespace {

/// "50 W panel", "3 × 50 W panel", "2 × 50 W panel in series", "3 strings of 2 × 50 W panel".
std::string several(int series, int parallel, const std::string& name) {
  if (series == 1) return parallel == 1 ? name : fmt::format("{} × {}", parallel, name);
  if (parallel == 1) return fmt::format("{} × {} in series", series, name);
  return fmt::format("{} strings of {} × {}", parallel, series, name);
}

std::string panels_text(const PartsList& parts, const PartsSet& set) {
  return several(set.panel_series, set.panel_strings, parts.panels[set.panel].name);
}

std::string batteries_text(const PartsList& parts, const PartsSet& set) {
  return several(set.battery_series, set.battery_parallel, parts.batteries[set.battery].name);
}

std::string set_text(const PartsList& parts, const PartsSet& set) {
  return fmt::format("{}, {}, {}", panels_text(parts, set), batteries_text(parts, set),
                     parts.regulators[set.regulator].name);
}

std::string money(double cost) { return fmt::format("{:g}", cost); }

Paragraph verdict(const PartsAnswer& answer) {
  const PartsChoice& choice = answer.choice;
  if (choice.best.empty()) {
    return {{"No set meets the aim", Tone::bad},
            fmt::format("none of {} ways to put the parts on the list together does.",
                        choice.possible)};
  }
  const PartsSet& set = choice.best.front().set;
  return {{"Cheapest set", Tone::good},
          fmt::format("{}; cost {}.", set_text(answer.parts, set), money(set.cost))};
}

Table set_table(const PartsAnswer& answer) {
  Table table{.columns = {{"Cost", "", "cost"},
                          {"Panels", "", "panel", Align::left},
                          {"Batteries", "", "battery", Align::left},
                          {"Regulator", "", "regulator", Align::left},
                          {"Short", "days/year", "shortfall_days"},
                          {"Autonomy", "days", "autonomy_days"}},
              .rows = {}};
  for (const JudgedSet& judged : answer.choice.best) {
    const PartsSet& set = judged.set;
    table.rows.push_back({{money(set.cost), fmt::format("{}", set.cost)},
                          word(panels_text(answer.parts, set)),
                          word(batteries_text(answer.parts, set)),
                          word(answer.parts.regulators[set.regulator].name),
                          number(judged.outcome->year.shortfall_days, 1),
                          number(judged.outcome->year.autonomy_days, 1)});
  }
  return table;
}

/// For machines: all sets that are told of, one a row.
Table record_table(const PartsAnswer& answer) {
  Table table{.columns = {{"", "", "panel"},
                          {"", "", "panels"},
                          {"", "", "panels_in_series"},
                          {"", "", "battery"},
                          {"", "", "batteries"},
                          {"", "", "batteries_in_series"},
                          {"", "", "regulator"},
                          {"", "", "cost"},
                          {"", "", "meets_aim"},
                          {"", "", "why_not"}},
              .rows = {}};
  const auto add = [&](const JudgedSet& judged) {
    const PartsSet& set = judged.set;
    table.rows.push_back({word(answer.parts.panels[set.panel].name), count(set.panels()),
                          count(set.panel_series), word(answer.parts.batteries[set.battery].name),
                          count(set.batteries()), count(set.battery_series),
                          word(answer.parts.regulators[set.regulator].name), number(set.cost, 2),
                          word(judged.meets_aim() ? "true" : "false"), word(judged.why_not)});
  };
  for (const JudgedSet& judged : answer.choice.best) add(judged);
  for (const JudgedSet& judged : answer.choice.missed) add(judged);
  return table;
}

std::vector<std::string> missed_texts(const PartsAnswer& answer) {
  std::vector<std::string> texts;
  for (const JudgedSet& judged : answer.choice.missed) {
    texts.push_back(fmt::format("{} for {}: {}", money(judged.set.cost),
                                set_text(answer.parts, judged.set), judged.why_not));
  }
  return texts;
}

Document parts_document(const PartsAnswer& answer, bool quiet) {
  Document document;
  document.emplace_back(verdict(answer));
  if (quiet) return document;
  document.emplace_back(Facts{site_facts(answer.site)});
  const bool any = !answer.choice.best.empty();
  if (any) {
    document.emplace_back(Heading{"The cheapest sets that meet the aim"});
    document.emplace_back(set_table(answer));
  }
  append_bullets(
      document,
      any ? "Sets a little cheaper, and why not" : "The sets that come nearest, and why not",
      missed_texts(answer));
  append_assumptions(document, answer.parts.assumptions, "Not given in the list, so assumed");
  append_rough(document, answer.site, answer.rough);
  return document;
}

}  // namespace

std::string parts_report(const PartsAnswer& answer, const OutputStyle& style) {
  return in_form(
      style, [&] { return parts_json(answer); }, [&] { return table_csv(record_table(answer)); },
      [&] { return parts_document(answer, style.quiet); });
}

}  // namespace amptally::report
