#include "report/table.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "report/text.hpp"

namespace amptally::report {
namespace {

using Line = std::vector<std::string>;

// Chosen: the width of a terminal nobody has widened.
constexpr std::size_t kTableColumns = 80;
// Chosen: a name cut below this says nothing.
constexpr std::size_t kShortestText = 8;

Line split_lines(const std::string& text) {
  Line lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

std::string shown(const std::string& text, const Look& look) {
  return look.utf8 ? printable(text) : ascii(printable(text));
}

/// The lines above the rule: stacked heads, the last of each on the same line, then the units.
std::vector<Line> head_lines(const Table& table, const Look& look) {
  std::vector<Line> stacks;
  std::size_t height = 0;
  bool any_unit = false;
  for (const Column& column : table.columns) {
    stacks.push_back(split_lines(column.head));
    height = std::max(height, stacks.back().size());
    any_unit = any_unit || !column.unit.empty();
  }
  std::vector<Line> lines(height + (any_unit ? 1 : 0), Line(table.columns.size()));
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    const std::size_t top = height - stacks[i].size();
    for (std::size_t j = 0; j < stacks[i].size(); ++j) {
      lines[top + j][i] = shown(stacks[i][j], look);
    }
    if (any_unit) lines[height][i] = shown(table.columns[i].unit, look);
  }
  return lines;
}

Line text_line(const std::vector<Cell>& row, const Look& look) {
  Line line;
  for (const Cell& cell : row) line.push_back(shown(cell.text, look));
  return line;
}

struct Layout {
  std::vector<std::size_t> widths;
  std::size_t gap;

  [[nodiscard]] std::size_t total() const {
    return std::accumulate(widths.begin(), widths.end(), gap * (widths.size() - 1));
  }
};

/// The widest left-aligned column that can still give way; -1 when none can.
std::ptrdiff_t widest_text(const Table& table, const Layout& layout) {
  std::ptrdiff_t widest = -1;
  for (std::size_t i = 0; i < layout.widths.size(); ++i) {
    if (table.columns[i].align != Align::left || layout.widths[i] <= kShortestText) continue;
    if (widest < 0 || layout.widths[i] > layout.widths[static_cast<std::size_t>(widest)]) {
      widest = static_cast<std::ptrdiff_t>(i);
    }
  }
  return widest;
}

Layout lay_out(const Table& table, const std::vector<Line>& lines, std::size_t limit) {
  Layout layout{std::vector<std::size_t>(table.columns.size(), 0), 2};
  for (const Line& line : lines) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      layout.widths[i] = std::max(layout.widths[i], display_width(line[i]));
    }
  }
  if (layout.total() > limit) layout.gap = 1;
  for (auto i = widest_text(table, layout); layout.total() > limit && i >= 0;
       i = widest_text(table, layout)) {
    --layout.widths[static_cast<std::size_t>(i)];
  }
  return layout;
}

std::string padded(const std::string& text, std::size_t width, Align align) {
  const std::size_t used = display_width(text);
  const std::string space(width > used ? width - used : 0, ' ');
  return align == Align::left ? text + space : space + text;
}

std::string aligned(const Table& table, const Layout& layout, const Line& line) {
  std::string result;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (i > 0) result.append(layout.gap, ' ');
    result +=
        padded(shortened(line[i], layout.widths[i]), layout.widths[i], table.columns[i].align);
  }
  result.erase(result.find_last_not_of(' ') + 1);
  return result + '\n';
}

std::string rule(const Layout& layout, const Look& look) {
  std::string result;
  for (std::size_t i = 0; i < layout.total(); ++i) result += look.utf8 ? "─" : "-";
  return result + '\n';
}

std::string markdown_row(const Line& cells) {
  std::string row = "|";
  for (const std::string& cell : cells) row += " " + cell + " |";
  return row + '\n';
}

Line markdown_line(const std::vector<Cell>& row) {
  Line line;
  for (const Cell& cell : row) line.push_back(markdown_escaped(cell.text));
  return line;
}

}  // namespace

std::string rounded(double value, int decimals) {
  const std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  return is_zero && text.front() == '-' ? text.substr(1) : text;
}

int decimals_for(double largest) {
  const double size = std::abs(largest);
  return size < 9.995 ? 2 : size < 99.95 ? 1 : 0;
}

Cell word(const std::string& text) { return {text, text}; }

Cell number(double value, int decimals) {
  if (!std::isfinite(value)) return {};
  return {rounded(value, decimals), fmt::format("{}", value)};
}

Cell percent(double share, int decimals) {
  if (!std::isfinite(share)) return {};
  return {rounded(100 * share, decimals), fmt::format("{}", share)};
}

Cell count(int value) { return word(fmt::format("{}", value)); }

std::string table_text(const Table& table, const Look& look) {
  std::vector<Line> lines = head_lines(table, look);
  const std::size_t head_count = lines.size();
  for (const auto& row : table.rows) lines.push_back(text_line(row, look));
  if (!table.total.empty()) lines.push_back(text_line(table.total, look));

  const Layout layout = lay_out(table, lines, std::min(look.width, kTableColumns));
  std::string result;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const bool before_total = !table.total.empty() && i + 1 == lines.size();
    if (i == head_count || before_total) result += rule(layout, look);
    result += aligned(table, layout, lines[i]);
  }
  return result;
}

std::string markdown_escaped(const std::string& text) {
  std::string result;
  for (const char c : printable(text)) {
    if (std::string_view("\\`*_[]<>|").find(c) != std::string_view::npos) result += '\\';
    result += c;
  }
  return result;
}

std::string table_markdown(const Table& table) {
  Line heads;
  Line rules;
  for (const Column& column : table.columns) {
    std::string head = column.head;
    std::replace(head.begin(), head.end(), '\n', ' ');
    if (!column.unit.empty()) head += ", " + column.unit;
    heads.push_back(markdown_escaped(head));
    rules.emplace_back(column.align == Align::left ? ":--" : "--:");
  }
  std::string result = markdown_row(heads) + markdown_row(rules);
  for (const auto& row : table.rows) result += markdown_row(markdown_line(row));
  if (!table.total.empty()) result += markdown_row(markdown_line(table.total));
  return result;
}

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string table_csv(const Table& table) {
  const auto line = [&table](auto&& field) {
    std::string text;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
      if (!table.columns[i].key.empty()) text += csv_field(field(i)) + ',';
    }
    text.back() = '\n';
    return text;
  };
  std::string result = line([&](std::size_t i) { return table.columns[i].key; });
  for (const auto& row : table.rows) result += line([&](std::size_t i) { return row[i].data; });
  return result;
}

}  // namespace amptally::report
