#include "report/check.hpp"

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"

namespace amptally::report {
namespace {

Cell position_cell(int number) { return number > 0 ? count(number) : Cell{}; }

Table problem_table(const std::vector<io::Problem>& problems) {
  Table table{.columns = {{"File", "", "file", Align::left},
                          {"Line", "", "line"},
                          {"Column", "", "column"},
                          {"Field", "", "field", Align::left},
                          {"Problem", "", "message", Align::left}},
              .rows = {}};
  for (const io::Problem& problem : problems) {
    table.rows.push_back({word(problem.file), position_cell(problem.line),
                          position_cell(problem.column), word(problem.field),
                          word(problem.message)});
  }
  return table;
}

Document check_document(const Check& check, const OutputStyle& style) {
  const bool as_messages = style.format == Format::table;  // on standard error
  if (!check.problems.empty())
    return as_messages ? Document{} : Document{problem_table(check.problems)};
  if (style.quiet) return {};
  Document document{Paragraph{.text = check.file + ": no problems"}};
  append_findings(document, check.findings);
  append_assumptions(document, check.assumptions);
  if (check.site) append_bullets(document, "Rough numbers", rough_texts(*check.site));
  return document;
}

}  // namespace

std::string check_report(const Check& check, const OutputStyle& style) {
  return in_form(
      style, [&] { return check_json(check); },
      [&] { return table_csv(problem_table(check.problems)); },
      [&] { return check_document(check, style); });
}

}  // namespace amptally::report
