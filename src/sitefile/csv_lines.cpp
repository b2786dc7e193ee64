#include "sitefile/csv_lines.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {

namespace {

/// Whether a record may end at `at`.
bool is_line_end(std::string_view text, std::size_t at) {
  return at == text.size() || text[at] == '\n' || text.substr(at).starts_with("\r\n");
}

std::size_t past_blanks(std::string_view text, std::size_t at) {
  return std::min(text.find_first_not_of(" \t", at), text.size());
}

/// Whether a number beyond the range of double is too small for it, not too large: whether its
/// first digit other than 0 stands below the point.
bool is_below_one(std::string_view number) {
  const std::size_t e = std::min(number.find_first_of("eE"), number.size());
  const std::string_view digits = number.substr(0, e);
  const std::size_t point = std::min(digits.find('.'), digits.size());
  const std::size_t first = digits.find_first_of("123456789");
  const bool minus_exponent = e + 1 < number.size() && number[e + 1] == '-';
  const bool plus_exponent = e < number.size() && !minus_exponent;
  return minus_exponent || (!plus_exponent && first != digits.npos && first > point);
}

}  // namespace

std::size_t CsvCells::take_record(std::string_view text, std::size_t line_end) {
  cells_.clear();
  resolved_.clear();
  const std::string_view line = text.substr(0, line_end);
  if (line.find('"') == line.npos) {  // as in most tables, and years of hours are long
    take_line(line);
    return line_end;
  }
  for (std::size_t at = 0;; ++at) {
    at = past_blanks(text, at);
    if (!text.substr(at).starts_with('"')) {
      take_bare(text, at);
    } else if (!take_quoted(text, at)) {
      return text.npos;
    }
    if (is_line_end(text, at)) return at;
  }
}

void CsvCells::take_line(std::string_view line) {
  for (std::size_t comma = line.find(','); comma != line.npos; comma = line.find(',')) {
    cells_.push_back(trimmed(line.substr(0, comma)));
    line.remove_prefix(comma + 1);
  }
  cells_.push_back(trimmed(line));
}

// Both leave `at` behind the cell: at a comma or at the record's end.
void CsvCells::take_bare(std::string_view text, std::size_t& at) {
  const std::size_t from = at;
  at = std::min(text.find_first_of(",\n", at), text.size());
  if (at > from && is_line_end(text, at - 1)) --at;  // CRLF
  cells_.push_back(trimmed(text.substr(from, at - from)));
}

bool CsvCells::take_quoted(std::string_view text, std::size_t& at) {
  const std::size_t from = at + 1;
  std::string* resolved = nullptr;
  for (std::size_t begin = from;; begin = at + 1) {
    at = text.find('"', begin);
    if (at == text.npos) return false;
    const bool is_doubled = text.substr(at + 1).starts_with('"');
    if (is_doubled && resolved == nullptr) resolved = &resolved_.emplace_back();
    if (resolved != nullptr) resolved->append(text.substr(begin, at - begin));
    if (!is_doubled) break;
    resolved->push_back('"');
    ++at;
  }
  cells_.push_back(resolved != nullptr ? *resolved : text.substr(from, at - from));
  at = past_blanks(text, at + 1);
  return is_line_end(text, at) || text[at] == ',';
}

TableLines::TableLines(const std::string& path, std::string_view text)
    : path_(path), rest_(without_byte_order_mark(text)) {
  // Blank lines at the end are no rows.
  rest_ = rest_.substr(0, rest_.find_last_not_of(" \t\r\n") + 1);
}

bool TableLines::next() {
  if (rest_.empty()) return false;
  const std::size_t end = std::min(rest_.find('\n'), rest_.size());
  line_ = rest_.substr(0, end);
  if (line_.ends_with('\r')) line_.remove_suffix(1);
  rest_.remove_prefix(std::min(end + 1, rest_.size()));
  number_ += lines_;
  lines_ = 1;
  refuse_binary();
  return true;
}

const std::vector<std::string_view>& TableLines::cells() {
  // From the line to the end of the text, both of which are views of it: a cell in quotes may go on
  // over several lines.
  const char* end_of_text = rest_.data() + rest_.size();
  const std::string_view text(line_.data(), static_cast<std::size_t>(end_of_text - line_.data()));
  const std::size_t end = cells_.take_record(text, line_.size());
  if (end == text.npos) fail("a quote is not closed, or text follows a closed one");
  if (end > line_.size()) {
    line_ = text.substr(0, end);
    lines_ += static_cast<int>(std::count(line_.begin(), line_.end(), '\n'));
    rest_ = text.substr(std::min(text.find('\n', end), text.size() - 1) + 1);
    refuse_binary();
  }
  return cells_.cells();
}

void TableLines::refuse_binary() const {
  if (line_.find('\0') != std::string_view::npos) {
    fail("is not text (a file saved as UTF-16, or no table at all?)");
  }
}

void TableLines::fail(const std::string& message) const {
  throw DataError(fmt::format("{}:{}", path_, std::max(number_, 1)), message);
}

double TableLines::number_in(std::string_view field, std::string_view name) const {
  if (field.empty()) fail(fmt::format("{} is missing", name));
  double value = 0;
  const char* end = field.data() + field.size();
  const auto [stopped, error] = std::from_chars(field.data(), end, value);
  const bool beyond = error == std::errc::result_out_of_range;
  if ((error != std::errc{} && !beyond) || stopped != end) {
    fail(fmt::format("{}: {} is not a number", name, in_quotes(field)));
  }
  // Beyond what a double holds, and of those too small for all its digits.
  if (beyond ? is_below_one(field) : value != 0 && std::fpclassify(value) == FP_SUBNORMAL) {
    fail(fmt::format("{}: {} is too near 0 to be told from it (write 0)", name, in_quotes(field)));
  }
  if (beyond) {
    fail(fmt::format("{}: {} is too large a number", name, in_quotes(field)));
  }
  if (!std::isfinite(value)) {
    fail(fmt::format("{}: {} is not a finite number", name, in_quotes(field)));
  }
  return value;
}

double TableLines::number_within(std::string_view field, std::string_view name, double low,
                                 double high, std::string_view unit) const {
  const double value = number_in(field, name);
  if (value < low || value > high) {
    fail(fmt::format("{}: {} is not in {}..{} {}", name, on_one_line(field), low, high, unit));
  }
  return value;
}

}  // namespace amptally::io
