#include "report/fit.hpp"

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"
#include "report/verdict.hpp"

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

Table comparison(const Fit& fit) {
  Table table{
      .columns = {{"In a year", "", "", Align::left}, {"Before", "", ""}, {"After", "", ""}},
      .rows = {}};
  const auto add = [&](const char* what, auto&& cell) {
    table.rows.push_back({word(what), cell(fit.before.year), cell(fit.after.year)});
  };
  const int decimals = fit.before.years > 1 ? 1 : 0;
  add("Use, Ah/day", [](const YearBalance& year) { return number(year.use_ah / kDaysPerYear, 2); });
  add("Short days", [&](const YearBalance& year) { return number(year.shortfall_days, decimals); });
  add("Not served, Wh", [](const YearBalance& year) { return number(year.shortfall_wh, 0); });
  add("Days below the floor",
      [&](const YearBalance& year) { return number(year.floor_days, decimals); });
  add("Deepest taken, %", [](const YearBalance& year) { return percent(year.deepest_discharge); });
  add("Autonomy, days", [](const YearBalance& year) { return number(year.autonomy_days, 1); });
  add("Battery life, years",
      [](const YearBalance& year) { return number(year.battery_life_years, 1); });
  return table;
}

// The same for machines: a row before, a row after.
Table record_table(const Fit& fit) {
  Table table{.columns = {{"", "", "loads", Align::left},
                          {"", "", "use_ah_day"},
                          {"", "", "shortfall_days"},
                          {"", "", "shortfall_wh"},
                          {"", "", "floor_days"},
                          {"", "", "deepest_discharge"},
                          {"", "", "autonomy_days"},
                          {"", "", "battery_life_years"}},
              .rows = {}};
  for (const Balance* balance : {&fit.before, &fit.after}) {
    const YearBalance& year = balance->year;
    table.rows.push_back({word(balance == &fit.before ? "before" : "after"),
                          number(year.use_ah / kDaysPerYear, 2), number(year.shortfall_days, 1),
                          number(year.shortfall_wh, 0), number(year.floor_days, 1),
                          percent(year.deepest_discharge), number(year.autonomy_days, 1),
                          number(year.battery_life_years, 1)});
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
