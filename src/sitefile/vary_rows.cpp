#include "sitefile/vary_rows.hpp"

#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/csv_lines.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {
namespace {

/// Values that are told before giving up. Chosen: a screen of them.
constexpr std::size_t kMostProblems = 20;

const std::vector<std::string_view>& good_cells(TableLines& lines) {
  const std::vector<std::string_view>& cells = lines.cells();
  if (!is_utf8(lines.line())) lines.fail("is not UTF-8 text (save the file as UTF-8)");
  return cells;
}

std::vector<VariedField> fields_of(TableLines& lines) {
  std::vector<VariedField> fields;
  for (const std::string_view path : good_cells(lines)) {
    if (path.empty()) lines.fail("a column has no name (the first line names the fields)");
    try {
      fields.push_back(varied_field(std::string(path)));
    } catch (const InputError& error) {
      lines.fail(fmt::format("{}: {}", on_one_line(path), error.message()));
    }
  }
  return fields;
}

}  // namespace

RowAxis::RowAxis(std::string name, std::string text, std::vector<Problem>& problems)
    : name_(std::move(name)), text_(std::make_shared<const std::string>(std::move(text))) {
  TableLines lines(name_, *text_);
  if (!lines.next()) lines.fail("is empty (the first line names the fields)");
  fields_ = fields_of(lines);
  const std::size_t before = problems.size();
  while (lines.next() && problems.size() < before + kMostProblems) {
    const std::vector<std::string_view>& cells = good_cells(lines);
    if (cells.size() != fields_.size()) {
      lines.fail(fmt::format("{} values for {} fields", cells.size(), fields_.size()));
    }
    rows_.push_back(lines.line());
    check_row(cells, lines.number(), problems);
  }
  if (rows_.empty()) lines.fail("has no row below its first line");
}

void RowAxis::check_row(const std::vector<std::string_view>& cells, int number,
                        std::vector<Problem>& problems) {
  const std::string shown = fmt::format("{}:{}", name_, number);
  for (std::size_t c = 0; c < fields_.size(); ++c) {
    if (cells[c].empty()) {
      problems.push_back({shown, 0, 0, on_one_line(fields_[c].path), "the value is missing"});
      continue;
    }
    const VariedValue value = varied_value(fields_[c], cells[c], shown, problems);
    settle_dimension(fields_[c], value, shown, problems);
  }
}

void RowAxis::append_values(std::size_t row, std::vector<VariedValue>& values) const {
  // What could be wrong was told when the table was read.
  CsvCells cells;
  (void)cells.take_record(rows_[row], rows_[row].size());
  std::vector<Problem> none;
  for (std::size_t c = 0; c < fields_.size(); ++c) {
    values.push_back(varied_value(fields_[c], cells.cells()[c], name_, none));
  }
}

}  // namespace amptally::io
