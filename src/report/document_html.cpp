#include "report/document_html.hpp"

#include <algorithm>
#include <string_view>

#include "text/ascii.hpp"

namespace amptally::report {
namespace {

// Chosen: the answer to a question is shorter than this; figures to look up are not.
constexpr std::size_t kFoldedRows = 12;

/// Whether the blank at `i` stands between a figure and its unit: "18 Ah", "50 %".
bool parts_unit(std::string_view text, std::size_t i) {
  if (i == 0 || i + 1 >= text.size() || !is_digit(text[i - 1])) return false;
  const char next = text[i + 1];
  return next == '%' || (next >= 'A' && next <= 'Z');
}

/// Text as print would set it: no line breaks between a figure and its unit, nor within an arrow.
Html words_html(std::string_view text) {
  std::string set;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.substr(i).starts_with("->")) {
      set += "→";
      ++i;
    } else if (text[i] == ' ' && parts_unit(text, i)) {
      set += "\u00A0";
    } else {
      set += text[i];
    }
  }
  return html_text(set);
}

const char* tone_class(Tone tone) {
  switch (tone) {
    case Tone::good:
      return "good";
    case Tone::caution:
      return "caution";
    case Tone::bad:
      return "bad";
    case Tone::plain:
      break;
  }
  return "plain";
}

Html lead_html(const Lead& lead) {
  return element("strong", {{"class", tone_class(lead.tone)}}, words_html(lead.words));
}

Html head_cell(const Column& column) {
  std::string head = column.head;
  std::replace(head.begin(), head.end(), '\n', ' ');
  Html inside = words_html(head);
  if (!column.unit.empty()) {
    inside += {" "};
    inside += element("span", {{"class", "unit"}}, words_html(column.unit));
  }
  return column.align == Align::left ? element("th", {{"scope", "col"}, {"class", "words"}}, inside)
                                     : element("th", {{"scope", "col"}}, inside);
}

Html row_html(const Table& table, const std::vector<Cell>& row) {
  Html cells;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const Html inside = words_html(row[i].text);
    const bool is_words = table.columns[i].align == Align::left;
    cells += i == 0 && is_words ? element("th", {{"scope", "row"}, {"class", "words"}}, inside)
             : is_words         ? element("td", {{"class", "words"}}, inside)
                                : element("td", inside);
  }
  return element("tr", cells) + Html{"\n"};
}

/// Everything but tables, whose shape depends on the heading before them.
struct HtmlLayout {
  Html operator()(const Heading& heading) const { return element("h3", words_html(heading.text)); }

  Html operator()(const Paragraph& paragraph) const {
    const Html text = words_html(paragraph.text);
    if (paragraph.lead.words.empty()) return element("p", text);
    return element("p", {{"class", "told"}}, lead_html(paragraph.lead) + Html{": "} + text);
  }

  Html operator()(const Facts& facts) const {
    Html lines;
    for (const auto& [label, text] : facts.lines) {
      lines += element("dt", words_html(label)) + element("dd", words_html(text)) + Html{"\n"};
    }
    return element("dl", lines);
  }

  Html operator()(const Bullets& bullets) const {
    Html lines;
    for (const std::string& line : bullets.lines) {
      lines += element("li", words_html(line)) + Html{"\n"};
    }
    return element("ul", lines);
  }

  Html operator()(const Advice& advice) const {
    Html inside = element("h3", lead_html(advice.lead)) + element("p", words_html(advice.text));
    if (!advice.source.empty()) {
      inside += element("p", {{"class", "source"}}, words_html("Source: " + advice.source));
    }
    return element("div", {{"class", std::string("advice ") + tone_class(advice.lead.tone)}},
                   inside);
  }

  Html operator()(const Table& table) const { return table_html(table, "Figures"); }

  Html operator()(const Drawing& drawing) const {
    return element("pre", {{"tabindex", "0"}}, html_text(drawing.lines));
  }
};

/// A table under its heading.
Html headed_table(const Heading& heading, const Table& table) {
  const Html inside = table_html(table, heading.text);
  if (table.rows.size() >= kFoldedRows) return folded(heading.text, inside);
  return HtmlLayout()(heading) + inside;
}

}  // namespace

Html table_html(const Table& table, const std::string& label) {
  Html heads;
  for (const Column& column : table.columns) heads += head_cell(column);
  Html rows;
  for (const auto& row : table.rows) rows += row_html(table, row);
  Html inside = element("thead", element("tr", heads)) + element("tbody", rows);
  if (!table.total.empty()) inside += element("tfoot", row_html(table, table.total));
  return element(
      "div", {{"class", "scroll"}, {"role", "region"}, {"aria-label", label}, {"tabindex", "0"}},
      element("table", inside));
}

Html folded(const std::string& summary, const Html& inside) {
  return element("details", element("summary", words_html(summary)) + inside);
}

Html document_html(const Document& document) {
  Html html;
  for (std::size_t i = 0; i < document.size(); ++i) {
    const auto* heading = std::get_if<Heading>(&document[i]);
    const auto* table = i + 1 < document.size() ? std::get_if<Table>(&document[i + 1]) : nullptr;
    if (heading != nullptr && table != nullptr) {
      html += headed_table(*heading, *table);
      ++i;
    } else {
      html += std::visit(HtmlLayout(), document[i]);
    }
    html += {"\n"};
  }
  return html;
}

}  // namespace amptally::report
