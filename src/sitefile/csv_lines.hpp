#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace amptally::io {

/// A table of text read line by line, which knows where it stands when something is wrong.
///
/// Lines end in LF or CRLF; a byte order mark at the start and blank lines at the end are no part
/// of the table. Path and text must outlive it.
class TableLines {
 public:
  TableLines(const std::string& path, std::string_view text);

  /// Moves to the next line, at first to line 1; false at the end, where the last line stays.
  bool next();

  [[nodiscard]] std::string_view line() const { return line_; }
  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] const std::string& path() const { return path_; }

  /// @throws DataError naming file and line, always
  [[noreturn]] void fail(const std::string& message) const;

  /// The number written in `field`.
  /// @param name  what it is called in messages
  /// @throws DataError if it is missing, no number or not finite
  [[nodiscard]] double number_in(std::string_view field, std::string_view name) const;

  /// The same, within bounds.
  [[nodiscard]] double number_within(std::string_view field, std::string_view name, double low,
                                     double high, std::string_view unit) const;

 private:
  const std::string& path_;
  std::string_view rest_;
  std::string_view line_;
  int number_ = 0;
};

/// Splits a line at its commas, blanks around a field dropped.
/// @param fields  out: as many as it holds
/// @return how many there are in all
std::size_t split_fields(std::string_view line, std::span<std::string_view> fields);

}  // namespace amptally::io
