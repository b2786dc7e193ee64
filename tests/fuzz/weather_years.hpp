#pragma once

#include <string>
#include <string_view>

/// Weather files whose first lines are anything. A year is too long for a fuzzer to write.
namespace amptally::fuzz {

/// Reads `text`, and what follows from it when it is taken.
void try_weather(const std::string& name, std::string_view text, bool thorough);

/// The lines of `text`, and behind each of them that is missing one of `row(n)`, n from 0.
/// @param header  lines before the first row
/// @param rows    of a whole year
template <class Row>
std::string filled_up(std::string_view text, std::size_t header, std::size_t rows, const Row& row) {
  std::string whole(text);
  if (!whole.empty() && whole.back() != '\n') whole += '\n';
  std::size_t lines = 0;
  for (const char c : whole) lines += c == '\n' ? 1 : 0;
  for (std::size_t n = lines < header ? 0 : lines - header; n < rows; ++n) whole += row(n) + '\n';
  return whole;
}

}  // namespace amptally::fuzz
