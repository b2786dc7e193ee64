#include "text/told_number.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace amptally::inline v0_1 {

double as_told(double value) {
  if (!std::isfinite(value)) return value;
  constexpr int kDigits = 9;
  std::array<char, 32> text{};
  const auto written = std::to_chars(text.data(), text.data() + text.size(), value,
                                     std::chars_format::scientific, kDigits - 1);
  double told = 0;
  std::from_chars(text.data(), written.ptr, told);
  return told;
}

std::string told_number(double value) { return fmt::format("{}", as_told(value)); }

}  // namespace amptally::inline v0_1
