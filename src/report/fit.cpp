#include "report/fit.hpp"

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/figure_cells.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"
#include "report/verdict.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

std::string names_of(const FitAnswer& answer) {
  std::string names;
  const auto& loads = answer.site.loads;
  for (std::size_t i = loads.size() - answer.added; i < loads.size(); ++i) {
    names += (names.empty() ? "" : ", ") + loads[i].name;
  }
  return names;
}

std::string room_text(const FitAnswer& answer) {
  const FitRoom& room = answer.fit.room;
  if (!answer.fit.before.holds()) return "The aim is missed without it already, so nothing fits.";
  const std::string& name = answer.site.loads.back().name;
  const std::string many = room.copies >= kMostCopies ? fmt::format("{} or more", kMostCopies)
                                                      : fmt::format("{}", room.copies);
  const std::string others = fmt::format("{} like {}", many, name);
  if (!room.minutes_per_day) return others + " would fit.";
  if (*room.minutes_per_day >= kMinutesPerDay) {
    return "It could run day and night, or " + others + " would fit.";
  }
  return fmt::format("Up to {} min a day would fit{}.", *room.minutes_per_day,
                     room.copies > 1 ? ", or " + others : "");
}

Paragraph answer_paragraph(const FitAnswer& answer) {
  const bool fits = answer.fit.fits;
  return {{fits ? "Fits" : "Does not fit", fits ? Tone::good : Tone::bad},
          fmt::format("{}. {}", names_of(answer), room_text(answer))};
}

// What is compared besides the use, which is told as its mean day.
constexpr double YearBalance::*kCompared[] = {
    &YearBalance::shortfall_days,    &YearBalance::shortfall_wh,  &YearBalance::floor_days,
    &YearBalance::deepest_discharge, &YearBalance::autonomy_days, &YearBalance::battery_life_years};

Cell use_cell(const Balance& balance) { return number(a_day(balance.year.use_ah), 2); }

Table comparison(const Fit& fit) {
  Table table{
      .columns = {{"In a year", "", "", Align::left}, {"Before", "", ""}, {"After", "", ""}},
      .rows = {{word("Use, Ah/day"), use_cell(fit.before), use_cell(fit.after)}}};
  const Decimals decimals{.days = fit.before.years > 1 ? 1 : 0};
  for (const auto member : kCompared) {
    const Figure<YearBalance>& figure = year_figure(member);
    const auto cell = [&](const Balance& balance) {
      return figure_cell(balance.year.*member, figure.rounding, decimals);
    };
    table.rows.push_back({word(line_name(figure)), cell(fit.before), cell(fit.after)});
  }
  return table;
}

// The same for machines: a row before, a row after.
Table record_table(const Fit& fit) {
  Table table{
      .columns = {{"", "", "loads", Align::left}, {"", "", "use_ah_day"}},
      .rows = {{word("before"), use_cell(fit.before)}, {word("after"), use_cell(fit.after)}}};
  for (const auto member : kCompared) {
    const Figure<YearBalance>& figure = year_figure(member);
    table.columns.push_back({"", "", std::string(figure.key)});
    table.rows[0].push_back(figure_cell(fit.before.year.*member, figure.rounding, {}));
    table.rows[1].push_back(figure_cell(fit.after.year.*member, figure.rounding, {}));
  }
  return table;
}

Document fit_document(const FitAnswer& answer, bool quiet) {
  Document document;
  document.emplace_back(answer_paragraph(answer));
  if (quiet) return document;
  if (!answer.fit.fits) {
    for (const Paragraph& verdict : verdicts(answer.fit.after)) document.emplace_back(verdict);
  }
  Facts facts{site_facts(answer.site)};
  facts.lines.emplace_back("Parts", parts_text(answer.site));
  document.emplace_back(std::move(facts));
  document.emplace_back(Heading{"Before and after"});
  document.emplace_back(comparison(answer.fit));
  append_assumptions(document, answer.fit.after.assumptions);
  append_rough(document, answer.site, answer.rough);
  return document;
}

}  // namespace

std::string fit_report(const FitAnswer& answer, const OutputStyle& style) {
  return in_form(
      style, [&] { return fit_json(answer); }, [&] { return table_csv(record_table(answer.fit)); },
      [&] { return fit_document(answer, style.quiet); });
}

}  // namespace amptally::report
