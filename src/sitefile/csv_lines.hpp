#pragma once

#include <cstddef>
#include <list>
#include <string>
#include <string_view>
#include <vector>

namespace amptally::io {

/// The cells of a record of a table in CSV (RFC 4180), parted by commas.
///
/// A cell in quotes may hold commas, line ends, and quotes, each written twice. Blanks around a
/// cell are dropped, those within quotes stay. The views look into the text and into this object.
class CsvCells {
 public:
  CsvCells() = default;
  CsvCells(const CsvCells&) = delete;
  CsvCells& operator=(const CsvCells&) = delete;

  /// Takes the cells of the record at the start of `text`, in place of those there were.
  /// @param line_end  where the first line of `text` ends
  /// @return where the record ends; npos if a quote is not closed, or text follows a closed one
  [[nodiscard]] std::size_t take_record(std::string_view text, std::size_t line_end);

  [[nodiscard]] const std::vector<std::string_view>& cells() const { return cells_; }

 private:
  void take_line(std::string_view line);
  void take_bare(std::string_view text, std::size_t& at);
  [[nodiscard]] bool take_quoted(std::string_view text, std::size_t& at);

  std::vector<std::string_view> cells_;
  std::list<std::string> resolved_;  ///< cells with doubled quotes; a list, so that views stay good
};

/// A table of text read line by line, which knows where it stands when something is wrong.
///
/// Lines end in LF or CRLF; a byte order mark at the start and blank lines at the end are no part
/// of the table. Path and text must outlive it.
class TableLines {
 public:
  TableLines(const std::string& path, std::string_view text);

  /// Moves to the next line, at first to line 1; false at the end, where the last line stays.
  bool next();

  /// The cells of this line, and of those after it that a cell in quotes reaches into: they are
  /// part of it from then on. The views hold until the next call.
  /// @throws DataError where a quote is not closed, or text follows a closed one
  const std::vector<std::string_view>& cells();

  [[nodiscard]] std::string_view line() const { return line_; }
  [[nodiscard]] int number() const { return number_; }  ///< of its first line
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
  void refuse_binary() const;

  const std::string& path_;
  std::string_view rest_;
  std::string_view line_;
  int number_ = 0;
  int lines_ = 1;  ///< that it takes in
  CsvCells cells_;
};

}  // namespace amptally::io
