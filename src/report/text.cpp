#include "report/text.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "text/utf8.hpp"

namespace amptally::report {
namespace {

using Range = std::pair<char32_t, char32_t>;

bool within(std::span<const Range> ranges, char32_t code) {
  return std::any_of(ranges.begin(), ranges.end(), [code](const Range& range) {
    return code >= range.first && code <= range.second;
  });
}

// The blocks that matter for names of places and parts, not every code point. Source: Unicode
// Standard Annex 11 (East Asian Width) and the blocks of combining marks, from memory.
constexpr std::array<Range, 7> kCombining = {{{0x0300, 0x036F},
                                              {0x1AB0, 0x1AFF},
                                              {0x1DC0, 0x1DFF},
                                              {0x200B, 0x200F},
                                              {0x20D0, 0x20FF},
                                              {0xFE00, 0xFE0F},
                                              {0xFE20, 0xFE2F}}};
constexpr std::array<Range, 10> kWide = {{{0x1100, 0x115F},
                                          {0x2E80, 0x303E},
                                          {0x3041, 0xA4CF},
                                          {0xAC00, 0xD7A3},
                                          {0xF900, 0xFAFF},
                                          {0xFE30, 0xFE6F},
                                          {0xFF00, 0xFF60},
                                          {0xFFE0, 0xFFE6},
                                          {0x1F300, 0x1FAFF},
                                          {0x20000, 0x3FFFD}}};

std::size_t width_of(char32_t code) {
  if (code < kCombining.front().first) return 1;  // nearly all there is
  if (within(kCombining, code)) return 0;
  return within(kWide, code) ? 2 : 1;
}

constexpr std::array<std::pair<char32_t, std::string_view>, 10> kSpelledOut = {{{U'°', " deg"},
                                                                                {U'…', "..."},
                                                                                {U'–', "-"},
                                                                                {U'−', "-"},
                                                                                {U'─', "-"},
                                                                                {U'×', "x"},
                                                                                {U'²', "2"},
                                                                                {U'±', "+-"},
                                                                                {U'·', "-"},
                                                                                {U'’', "'"}}};

constexpr std::array<std::string_view, 21> kUnits = {
    "%",  "A",  "mA", "V",   "W",  "Ah", "Wh",  "L", "L/h", "L/day", "m",
    "mm", "cm", "km", "mm²", "m²", "h",  "min", "K", "°C",  "kWh/m²"};

bool is_figure(std::string_view word) {
  return !word.empty() && word.find_first_not_of("-0123456789.") == std::string_view::npos;
}

bool is_unit(std::string_view word) {
  word = word.substr(0, word.find_last_not_of(".,;:)") + 1);
  return std::find(kUnits.begin(), kUnits.end(), word) != kUnits.end();
}

/// Where the first word of `text` ends: a figure and its unit are one.
std::size_t word_end(std::string_view text) {
  const std::size_t end = std::min(text.find(' '), text.size());
  if (end == text.size() || !is_figure(text.substr(0, end))) return end;
  const std::size_t next = std::min(text.find(' ', end + 1), text.size());
  return is_unit(text.substr(end + 1, next - end - 1)) ? next : end;
}

}  // namespace

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    width += width_of(next.code);
    text.remove_prefix(next.bytes);
  }
  return width;
}

std::string shortened(std::string_view text, std::size_t columns) {
  if (display_width(text) <= columns) return std::string(text);
  std::string kept;
  std::size_t width = 1;  // the ellipsis
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    width += width_of(next.code);
    if (width > columns) break;
    kept += text.substr(0, next.bytes);
    text.remove_prefix(next.bytes);
  }
  return kept + "…";
}

std::vector<std::string> wrapped(std::string_view text, std::size_t columns) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::size_t end = word_end(text);
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!line.empty() && display_width(line) + 1 + display_width(word) > columns) {
      lines.push_back(std::exchange(line, {}));
    }
    if (!line.empty()) line += ' ';
    line += word;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::string printable(std::string_view text) {
  std::string result;
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    const bool control = next.code < 0x20 || (next.code >= 0x7F && next.code < 0xA0);
    if (control) {
      result += '?';
    } else {
      result += text.substr(0, next.bytes);
    }
    text.remove_prefix(next.bytes);
  }
  return result;
}

std::string ascii(std::string_view text) {
  std::string result;
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    text.remove_prefix(next.bytes);
    if (next.code < 0x80) {
      result += static_cast<char>(next.code);
      continue;
    }
    const auto* sign = std::find_if(kSpelledOut.begin(), kSpelledOut.end(),
                                    [&](const auto& entry) { return entry.first == next.code; });
    result += sign == kSpelledOut.end() ? "?" : sign->second;
  }
  return result;
}

}  // namespace amptally::report
