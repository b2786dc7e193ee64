#include "sitefile/vary_rows.hpp"

#include <optional>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/csv_lines.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {
namespace {

/// Values that are told before giving up. Chosen: a screen of them.
constexpr std::size_t kMostProblems = 20;

/// The cell at the start of `line`, which loses it and the comma behind; nothing for a quote that
/// is not closed or goes on.
std::optional<std::string> take_cell(std::string_view& line) {
  if (!line.starts_with('"')) {
    const std::size_t comma = line.find(',');
    const std::string cell(trimmed(line.substr(0, comma)));
    line = comma == line.npos ? std::string_view{} : line.substr(comma + 1);
    return cell;
  }
  std::string cell;
  line.remove_prefix(1);
  for (;;) {
    const std::size_t quote = line.find('"');
    if (quote == line.npos) return std::nullopt;
    cell += line.substr(0, quote);
    line.remove_prefix(quote + 1);
    if (!line.starts_with('"')) break;
    cell += '"';  // two stand for one
    line.remove_prefix(1);
  }
  if (!line.empty() && line[0] != ',') return std::nullopt;
  line.remove_prefix(line.empty() ? 0 : 1);
  return cell;
}

/// All cells of a line; nothing where a quote is astray.
std::optional<std::vector<std::string>> cells_of(std::string_view line) {
  std::vector<std::string> cells;
  const bool last_is_empty = line.ends_with(',');
  do {
    std::optional<std::string> cell = take_cell(line);
    if (!cell) return std::nullopt;
    cells.push_back(std::move(*cell));
  } while (!line.empty());
  if (last_is_empty) cells.emplace_back();
  return cells;
}

std::vector<std::string> good_cells(const TableLines& lines) {
  if (!is_utf8(lines.line())) lines.fail("is not UTF-8 text (save the file as UTF-8)");
  auto cells = cells_of(lines.line());
  if (!cells) lines.fail("a quote is not closed, or text follows a closed one");
  return std::move(*cells);
}

std::vector<VariedField> fields_of(const TableLines& lines) {
  std::vector<VariedField> fields;
  for (const std::string& path : good_cells(lines)) {
    if (path.empty()) lines.fail("a column has no name (the first line names the fields)");
    try {
      fields.push_back(varied_field(path));
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
    const std::size_t cells = good_cells(lines).size();
    if (cells != fields_.size()) {
      lines.fail(fmt::format("{} values for {} fields", cells, fields_.size()));
    }
    add_row(lines.line(), lines.number(), problems);
  }
  if (rows_.empty()) lines.fail("has no row below its first line");
}

void RowAxis::add_row(std::string_view line, int number, std::vector<Problem>& problems) {
  rows_.push_back(line);
  const std::string shown = fmt::format("{}:{}", name_, number);
  for (std::size_t c = 0; c < fields_.size(); ++c) {
    const std::string cell = *take_cell(line);
    if (cell.empty()) {
      problems.push_back({shown, 0, 0, on_one_line(fields_[c].path), "the value is missing"});
      continue;
    }
    const VariedValue value = varied_value(fields_[c], cell, shown, problems);
    settle_dimension(fields_[c], value, shown, problems);
  }
}

void RowAxis::append_values(std::size_t row, std::vector<VariedValue>& values) const {
  std::vector<Problem> none;  // found when the table was read
  std::string_view line = rows_[row];
  for (const VariedField& field : fields_) {
    values.push_back(varied_value(field, *take_cell(line), name_, none));
  }
}

}  // namespace amptally::io
