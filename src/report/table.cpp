#include "report/table.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "report/text.hpp"
#include "text/told_number.hpp"

namespace amptally::report {
namespace {

using TextLine = std::vector<std::string>;

// Chosen: the width of a terminal nobody has widened.
constexpr std::size_t kTableColumns = 80;
// Chosen: text wrapped into less is hard to read, and a word longer than this may be cut.
constexpr std::size_t kShortestText = 14;
constexpr std::size_t kLongestWord = 24;

TextLine split_lines(const std::string& text) {
  TextLine lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

std::string shown(const std::string& text, const OutputStyle& style) {
  return style.utf8 ? printable(text) : ascii(printable(text));
}

/// The lines above the rule: stacked heads, the last of each on the same line, then the units.
std::vector<TextLine> head_lines(const Table& table, const OutputStyle& style) {
  std::vector<TextLine> stacks;
  std::size_t height = 0;
  bool any_unit = false;
  for (const Column& column : table.columns) {
    stacks.push_back(split_lines(column.head));
    height = std::max(height, stacks.back().size());
    any_unit = any_unit || !column.unit.empty();
  }
  std::vector<TextLine> lines(height + (any_unit ? 1 : 0), TextLine(table.columns.size()));
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    const std::size_t top = height - stacks[i].size();
    for (std::size_t j = 0; j < stacks[i].size(); ++j) {
      lines[top + j][i] = shown(stacks[i][j], style);
    }
    if (any_unit) lines[height][i] = shown(table.columns[i].unit, style);
  }
  return lines;
}

/// Figures after the decimal point; none where `text` is no number.
std::optional<std::size_t> decimals_of(const std::string& text) {
  if (text.empty() || text.find_first_not_of("-0123456789.") != std::string::npos) return {};
  const std::size_t point = text.find('.');
  return point == std::string::npos ? 0 : text.size() - point - 1;
}

/// Puts the decimal points of right-aligned numbers below each other.
void align_points(const Table& table, std::vector<TextLine>& rows) {
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    if (table.columns[i].align != Align::right) continue;
    std::size_t most = 0;
    for (const TextLine& row : rows) most = std::max(most, decimals_of(row[i]).value_or(0));
    for (TextLine& row : rows) {
      const std::optional<std::size_t> decimals = decimals_of(row[i]);
      // A whole number leaves room for the point as well.
      if (decimals && *decimals < most) row[i].append(most - *decimals + (*decimals == 0), ' ');
    }
  }
}

/// The rows as shown, the total last.
std::vector<TextLine> body_lines(const Table& table, const OutputStyle& style) {
  std::vector<TextLine> lines;
  const auto add = [&](const std::vector<Cell>& row) {
    TextLine line;
    for (const Cell& cell : row) line.push_back(shown(cell.text, style));
    lines.push_back(std::move(line));
  };
  for (const auto& row : table.rows) add(row);
  if (!table.total.empty()) add(table.total);
  align_points(table, lines);
  return lines;
}

/// Which columns stand side by side, how wide, and how far apart.
struct Layout {
  std::vector<std::size_t> columns;
  std::vector<std::size_t> widths;  ///< of each of `columns`
  std::size_t gap = 2;

  [[nodiscard]] std::size_t total() const {
    return std::accumulate(widths.begin(), widths.end(), gap * (widths.size() - 1));
  }
};

/// How wide a column is, and how narrow it may become.
struct Width {
  std::size_t full = 0;
  std::size_t least = 0;
};

std::size_t longest_word(const std::string& text) {
  std::size_t longest = 0;
  for (const std::string& word : wrapped(text, 1)) longest = std::max(longest, display_width(word));
  return longest;
}

/// Numbers keep their width, text wraps at its spaces.
std::vector<Width> column_widths(const Table& table, const std::vector<TextLine>& heads,
                                 const std::vector<TextLine>& rows) {
  std::vector<Width> widths(table.columns.size());
  for (const std::vector<TextLine>* lines : {&heads, &rows}) {
    for (const TextLine& line : *lines) {
      for (std::size_t i = 0; i < line.size(); ++i) {
        const std::size_t full = display_width(line[i]);
        const std::size_t word = std::clamp(longest_word(line[i]), kShortestText, kLongestWord);
        const bool wraps = table.columns[i].align == Align::left;
        widths[i].full = std::max(widths[i].full, full);
        widths[i].least = std::max(widths[i].least, wraps ? std::min(full, word) : full);
      }
    }
  }
  return widths;
}

/// The widest column that can still give way; none when none can.
std::optional<std::size_t> widest_text(const std::vector<Width>& widths, const Layout& layout) {
  std::optional<std::size_t> widest;
  for (std::size_t i = 0; i < layout.widths.size(); ++i) {
    if (layout.widths[i] <= widths[layout.columns[i]].least) continue;
    if (!widest || layout.widths[i] > layout.widths[*widest]) widest = i;
  }
  return widest;
}

/// Brings the layout within `limit`, if narrower gaps and wrapped text can.
void narrow(const std::vector<Width>& widths, Layout& layout, std::size_t limit) {
  if (layout.total() > limit) layout.gap = 1;
  for (auto i = widest_text(widths, layout); layout.total() > limit && i;
       i = widest_text(widths, layout)) {
    --layout.widths[*i];
  }
}

/// The columns in one block, or, where they do not fit, in several below each other, each with the
/// first column again. A block has two columns at least, however narrow the terminal.
std::vector<Layout> lay_out(const std::vector<Width>& widths, std::size_t limit) {
  std::vector<Layout> blocks(1);
  for (std::size_t i = 0; i < widths.size(); ++i) {
    Layout wider = blocks.back();
    wider.columns.push_back(i);
    wider.widths.push_back(widths[i].full);
    narrow(widths, wider, limit);
    if (wider.total() > limit && blocks.back().columns.size() > 1) {
      wider = {.columns = {0, i}, .widths = {widths[0].full, widths[i].full}};
      narrow(widths, wider, limit);
      blocks.push_back(std::move(wider));
    } else {
      blocks.back() = std::move(wider);
    }
  }
  return blocks;
}

std::string padded(const std::string& text, std::size_t width, Align align) {
  const std::size_t used = display_width(text);
  const std::string space(width > used ? width - used : 0, ' ');
  return align == Align::left ? text + space : space + text;
}

/// One row, on as many lines as its longest text wraps to.
std::string aligned(const Table& table, const Layout& layout, const TextLine& row) {
  std::vector<TextLine> cells;
  std::size_t height = 1;
  for (std::size_t i = 0; i < layout.columns.size(); ++i) {
    const std::string& text = row[layout.columns[i]];
    const bool fits = display_width(text) <= layout.widths[i];
    cells.push_back(fits ? TextLine{text} : wrapped(text, layout.widths[i]));
    height = std::max(height, cells.back().size());
  }
  std::string result;
  for (std::size_t j = 0; j < height; ++j) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i > 0) line.append(layout.gap, ' ');
      const std::string part = j < cells[i].size() ? cells[i][j] : "";
      line += padded(shortened(part, layout.widths[i]), layout.widths[i],
                     table.columns[layout.columns[i]].align);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    result += line + '\n';
  }
  return result;
}

std::string rule(const Layout& layout, const OutputStyle& style) {
  std::string result;
  for (std::size_t i = 0; i < layout.total(); ++i) result += style.utf8 ? "─" : "-";
  return result + '\n';
}

/// Whether any of the block's columns from `first` on says something on this line.
bool says_any(const Layout& layout, const TextLine& line, std::size_t first) {
  return std::any_of(layout.columns.begin() + static_cast<std::ptrdiff_t>(first),
                     layout.columns.end(), [&](std::size_t i) { return !line[i].empty(); });
}

std::string block_text(const Table& table, const Layout& layout, const std::vector<TextLine>& heads,
                       const std::vector<TextLine>& rows, const OutputStyle& style) {
  std::string result;
  for (const TextLine& head : heads) {
    if (says_any(layout, head, 0)) result += aligned(table, layout, head);
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool is_total = !table.total.empty() && i + 1 == rows.size();
    if (is_total && !says_any(layout, rows[i], 1)) continue;
    if (i == 0 || is_total) result += rule(layout, style);
    result += aligned(table, layout, rows[i]);
  }
  return result;
}

std::string markdown_row(const Table& table, const std::vector<std::size_t>& widths,
                         const TextLine& cells) {
  std::string row = "|";
  for (std::size_t i = 0; i < cells.size(); ++i) {
    row += " " + padded(cells[i], widths[i], table.columns[i].align) + " |";
  }
  return row + '\n';
}

TextLine markdown_head(const Table& table) {
  TextLine heads;
  for (const Column& column : table.columns) {
    std::string head = column.head;
    std::replace(head.begin(), head.end(), '\n', ' ');
    if (!column.unit.empty()) head += ", " + column.unit;
    heads.push_back(markdown_escaped(head));
  }
  return heads;
}

TextLine markdown_line(const std::vector<Cell>& row) {
  TextLine line;
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
  return {rounded(value, decimals), told_number(value)};
}

Cell percent(double share, int decimals) {
  if (!std::isfinite(share)) return {};
  return {rounded(100 * share, decimals), told_number(share)};
}

Cell count(int value) { return word(fmt::format("{}", value)); }

std::string table_text(const Table& table, const OutputStyle& style) {
  const std::vector<TextLine> heads = head_lines(table, style);
  const std::vector<TextLine> rows = body_lines(table, style);
  const std::vector<Width> widths = column_widths(table, heads, rows);
  std::string result;
  for (const Layout& block : lay_out(widths, std::min(style.width, kTableColumns))) {
    if (!result.empty()) result += '\n';
    result += block_text(table, block, heads, rows, style);
  }
  return result;
}

std::string markdown_escaped(const std::string& text) {
  std::string result;
  for (const char c : printable(text)) {
    // At the start of a line these would begin a list.
    const bool list_sign =
        result.empty() && (c == '-' || c == '+') && text.size() > 1 && text[1] == ' ';
    if (list_sign || std::string_view("\\`*_[]<>|#&~").find(c) != std::string_view::npos) {
      result += '\\';
    }
    result += c;
  }
  return result;
}

std::string table_markdown(const Table& table) {
  std::vector<TextLine> lines = {markdown_head(table)};
  for (const auto& row : table.rows) lines.push_back(markdown_line(row));
  if (!table.total.empty()) lines.push_back(markdown_line(table.total));
  std::vector<std::size_t> widths(table.columns.size(), 3);  // room for the rule's own signs
  for (const TextLine& line : lines) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      widths[i] = std::max(widths[i], display_width(line[i]));
    }
  }
  TextLine rules;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    const std::string dashes(widths[i] - 1, '-');
    rules.push_back(table.columns[i].align == Align::left ? ":" + dashes : dashes + ":");
  }
  lines.insert(lines.begin() + 1, rules);
  std::string result;
  for (const TextLine& line : lines) result += markdown_row(table, widths, line);
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
