#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sitefile/problem.hpp"
#include "sitefile/varied_field.hpp"

namespace amptally::io {

/// Largest file of combinations that is read: it is kept in memory as it is. Chosen: millions of
/// rows.
inline constexpr std::size_t kMaxRowsFileBytes = std::size_t{256} << 20U;

/// Combinations from a table: the first line names the fields by their paths, each line after it is
/// a value for each, written as in `--set`. A field with a comma or a quote is quoted (RFC 4180).
class RowAxis {
 public:
  /// @param name      what messages call the table
  /// @param problems  out: values that their fields do not take, by line; the first few
  /// @throws DataError naming the line, if the table cannot be read or a column names no field
  RowAxis(std::string name, std::string text, std::vector<Problem>& problems);

  [[nodiscard]] const std::vector<VariedField>& fields() const { return fields_; }
  [[nodiscard]] std::size_t count() const { return rows_.size(); }

  /// Adds the values of a row to `values`.
  void append_values(std::size_t row, std::vector<VariedValue>& values) const;

 private:
  void check_row(const std::vector<std::string_view>& cells, int number,
                 std::vector<Problem>& problems);

  std::string name_;
  std::shared_ptr<const std::string> text_;  // shared: the rows look into it, wherever this moves
  std::vector<VariedField> fields_;
  std::vector<std::string_view> rows_;
};

}  // namespace amptally::io
