#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "report/output_style.hpp"

namespace amptally::report {

/// One cell, twice: rounded for people, at full precision for machines.
struct Cell {
  std::string text;  ///< in tables and Markdown
  std::string data;  ///< in CSV
};

/// A word or a name.
[[nodiscard]] Cell word(const std::string& text);
/// In place of a figure that there is none of.
inline constexpr double kNoFigure = std::numeric_limits<double>::quiet_NaN();
/// A number with so many decimals; empty when it is not finite.
[[nodiscard]] Cell number(double value, int decimals);
/// A share, 0..1, shown in per cent.
[[nodiscard]] Cell percent(double share, int decimals = 0);
[[nodiscard]] Cell count(int value);

/// `value` with so many decimals and never "-0".
[[nodiscard]] std::string rounded(double value, int decimals);
/// Decimals that leave three figures to a column whose largest value is `largest`: 2, 1 or 0.
[[nodiscard]] int decimals_for(double largest);

enum class Align { left, right };

struct Column {
  std::string head;  ///< '\n' stacks it
  std::string unit;  ///< on a line of its own under the head; may be empty
  std::string key;   ///< column name in CSV, with its unit; empty: not in CSV
  Align align = Align::right;
};

struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;
  std::vector<Cell> total = {};  ///< a last row set apart, not in CSV; may be empty
};

/// Aligned columns of at most 80 terminal columns (or `style.width` where that is less): cells of
/// left-aligned columns wrap, numbers never do. Columns that still do not fit follow below, beside
/// the first column again.
[[nodiscard]] std::string table_text(const Table& table, const OutputStyle& style);
[[nodiscard]] std::string table_markdown(const Table& table);
/// RFC 4180 quoting, but lines end in LF.
[[nodiscard]] std::string table_csv(const Table& table);

/// A field of CSV: in quotes where it has to be.
[[nodiscard]] std::string csv_field(const std::string& text);

/// `text` with the signs Markdown would act on escaped.
[[nodiscard]] std::string markdown_escaped(const std::string& text);

}  // namespace amptally::report
