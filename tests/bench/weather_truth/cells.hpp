#pragma once

#include <string>

#include "report/table.hpp"

/// Columns and cells of the page's tables.
namespace weather_truth {

inline amptally::report::Column named(const std::string& name) {
  return {name, "", "", amptally::report::Align::left};
}
inline amptally::report::Column figure(const std::string& name, const std::string& unit = "") {
  return {name, unit, ""};
}

/// With a plus where it is above 0.
inline amptally::report::Cell signed_number(double value, int decimals) {
  const std::string text = amptally::report::rounded(value, decimals);
  return amptally::report::word(
      value > 0 && text.find_first_of("123456789") != text.npos ? "+" + text : text);
}

}  // namespace weather_truth
