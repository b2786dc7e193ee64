#pragma once

#include <string>

#include "balance/figures.hpp"
#include "report/table.hpp"

/// Columns, rows and cells of tables from the rows of balance/figures.hpp.
namespace amptally::report {

/// Decimals that depend on what a table holds.
struct Decimals {
  int charge = 0;  ///< of amp-hours
  int days = 0;    ///< of counted days: a mean of years is seldom whole
};

[[nodiscard]] Cell figure_cell(double value, Rounding rounding, const Decimals& decimals);

/// What a line is called that has a figure of a year: "Not served, Wh".
[[nodiscard]] std::string line_name(const Figure<YearBalance>& figure);

/// Adds the columns of a day's or a month's figures.
template <class Figures>
void append_columns(Table& table, const Figures& figures) {
  for (const auto& figure : figures) {
    if (figure.head.empty()) continue;
    table.columns.push_back(
        {std::string(figure.head), std::string(figure.unit), std::string(figure.key)});
  }
}

/// Adds the cells below them.
template <class Figures, class Record>
void append_cells(std::vector<Cell>& row, const Figures& figures, const Record& record,
                  const Decimals& decimals) {
  for (const auto& figure : figures) {
    if (figure.head.empty()) continue;
    row.push_back(figure_cell(value_in(record, figure.value), figure.rounding, decimals));
  }
}

}  // namespace amptally::report
