#include "sitefile/csv_lines.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

TableLines::TableLines(const std::string& path, std::string_view text) : path_(path), rest_(text) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (rest_.starts_with(kByteOrderMark)) rest_.remove_prefix(kByteOrderMark.size());
  rest_ = rest_.substr(0, rest_.find_last_not_of(" \t\r\n") + 1);
}

bool TableLines::next() {
  if (rest_.empty()) return false;
  const std::size_t end = std::min(rest_.find('\n'), rest_.size());
  line_ = rest_.substr(0, end);
  if (line_.ends_with('\r')) line_.remove_suffix(1);
  rest_.remove_prefix(std::min(end + 1, rest_.size()));
  ++number_;
  if (line_.find('\0') != std::string_view::npos) {
    fail("is not text (a file saved as UTF-16, or no table at all?)");
  }
  return true;
}

void TableLines::fail(const std::string& message) const {
  throw DataError(fmt::format("{}:{}", path_, std::max(number_, 1)), message);
}

double TableLines::number_in(std::string_view field, std::string_view name) const {
  if (field.empty()) fail(fmt::format("{} is missing", name));
  double value = 0;
  const char* end = field.data() + field.size();
  const auto [stopped, error] = std::from_chars(field.data(), end, value);
  const bool too_large = error == std::errc::result_out_of_range;
  if (!too_large && (error != std::errc{} || stopped != end)) {
    fail(fmt::format("{}: {} is not a number", name, in_quotes(field)));
  }
  if (too_large || !std::isfinite(value)) {
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

std::size_t split_fields(std::string_view line, std::span<std::string_view> fields) {
  std::size_t count = 0;
  for (;;) {
    const std::size_t comma = line.find(',');
    if (count < fields.size()) fields[count] = trimmed(line.substr(0, comma));
    ++count;
    if (comma == std::string_view::npos) return count;
    line.remove_prefix(comma + 1);
  }
}

}  // namespace amptally::io
