#include "report/chart.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "amptally/sun.hpp"

#include "report/document.hpp"
#include "report/labels.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

constexpr std::size_t kMostColumns = 73;  // five days each
constexpr std::size_t kScaleColumns = 6;  // "100 % "
constexpr int kRows = 4;
constexpr int kEighths = 8;

// A day this close to the floor is at it: rounding.
constexpr double kSlack = 1e-9;

/// U+2581 to U+2588 fill a cell from below in eighths.
constexpr std::array<const char*, kEighths + 1> kBlocks = {" ", "▁", "▂", "▃", "▄",
                                                           "▅", "▆", "▇", "█"};

/// Day, from 0, with which a column begins.
std::size_t first_day(std::size_t column, std::size_t columns) {
  return column * kDaysPerYear / columns;
}

/// The lowest charge of the days of each column.
std::vector<double> squeezed(std::span<const DayBalance> days, std::size_t columns) {
  std::vector<double> lowest;
  for (std::size_t c = 0; c < columns; ++c) {
    double value = 1;
    for (std::size_t d = first_day(c, columns); d < first_day(c + 1, columns); ++d) {
      value = std::min(value, days[d].state_of_charge_min);
    }
    lowest.push_back(value);
  }
  return lowest;
}

const char* block(double charge, int row) {
  const int filled = static_cast<int>(std::floor(charge * kRows * kEighths + kSlack));
  return kBlocks[static_cast<std::size_t>(std::clamp(filled - row * kEighths, 0, kEighths))];
}

/// One row, 0 at the bottom; neighbours of one tone share their colour codes.
std::string bars(const std::vector<double>& charge, int row, double floor_charge,
                 const OutputStyle& style) {
  std::string line;
  for (std::size_t c = 0; c < charge.size();) {
    const bool is_below = charge[c] < floor_charge - kSlack;
    std::string run;
    for (; c < charge.size() && (charge[c] < floor_charge - kSlack) == is_below; ++c) {
      run += block(charge[c], row);
    }
    line += coloured(run, is_below ? Tone::bad : Tone::plain, style);
  }
  return line;
}

/// Each month's name, or its first letter where names would touch, at the column of its first day.
std::string month_line(std::size_t columns) {
  // The shortest month has to be wider than a name of three letters.
  const std::size_t letters = columns * 28 / kDaysPerYear > 3 ? 3 : 1;
  std::string line;
  for (int month = 0; month < 12; ++month) {
    const auto day = static_cast<std::size_t>(first_day_of_month(month) - 1);
    std::size_t column = 0;
    while (first_day(column + 1, columns) <= day) ++column;
    line.resize(column, ' ');
    line += month_name(month).substr(0, letters);
  }
  return line;
}

}  // namespace

std::string charge_strip(std::span<const DayBalance> days, double floor_charge,
                         const OutputStyle& style) {
  const std::string floor_words = fmt::format(" floor {} %", rounded(100 * floor_charge, 0));
  const std::size_t columns =
      std::min(kMostColumns, style.width - kScaleColumns - floor_words.size());
  const std::vector<double> charge = squeezed(days, columns);
  const int floor_row =
      std::clamp(static_cast<int>(std::ceil(floor_charge * kRows)) - 1, 0, kRows - 1);
  std::string strip;
  for (int row = kRows - 1; row >= 0; --row) {
    strip += row == kRows - 1 ? "100 % " : row == 0 ? "  0 % " : std::string(kScaleColumns, ' ');
    strip += bars(charge, row, floor_charge, style);
    strip += row == floor_row ? floor_words + '\n' : "\n";
  }
  return strip + std::string(kScaleColumns, ' ') + month_line(columns) + '\n';
}

}  // namespace amptally::report
