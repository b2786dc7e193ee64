#include "report/figure_cells.hpp"

namespace amptally::report {

Cell figure_cell(double value, Rounding rounding, const Decimals& decimals) {
  switch (rounding) {
    case Rounding::whole:
      break;
    case Rounding::tenths:
      return number(value, 1);
    case Rounding::hundredths:
      return number(value, 2);
    case Rounding::charge:
      return number(value, decimals.charge);
    case Rounding::days:
      return number(value, decimals.days);
    case Rounding::percent:
      return percent(value);
    case Rounding::percent_10:
      return percent(value, 1);
  }
  return number(value, 0);
}

std::string line_name(const Figure<YearBalance>& figure) {
  std::string name(figure.head);
  if (!figure.unit.empty()) name.append(", ").append(figure.unit);
  return name;
}

}  // namespace amptally::report
