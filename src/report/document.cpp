#include "report/document.hpp"

#include <algorithm>

#include "report/text.hpp"

namespace amptally::report {
namespace {

/// `text` in the signs that the terminal has.
std::string clean(const std::string& text, const OutputStyle& style) {
  return style.utf8 ? printable(text) : ascii(printable(text));
}

/// `text` wrapped, its first line after `first` and the others indented by `indent` columns.
std::string hanging(const std::string& first, std::size_t indent, const std::string& text,
                    const OutputStyle& style) {
  // Before it is wrapped, since spelling a sign out changes its width.
  std::string result;
  for (const std::string& line : wrapped(clean(text, style), style.width - indent)) {
    result += result.empty() ? first : std::string(indent, ' ');
    result += line + '\n';
  }
  return result.empty() ? first + '\n' : result;
}

class TextLayout {
 public:
  explicit TextLayout(const OutputStyle& style) : style_(style) {}

  std::string operator()(const Heading& heading) const {
    return hanging("", 0, heading.text, style_);
  }

  std::string operator()(const Paragraph& paragraph) const {
    if (paragraph.lead.words.empty()) return hanging("", 0, paragraph.text, style_);
    // As it stands there, since spelling a sign out changes its length.
    const std::string lead = clean(paragraph.lead.words, style_);
    // Wrapped together, then the lead coloured, so that colour takes no columns.
    std::string text = hanging("", 0, lead + ": " + paragraph.text, style_);
    text.replace(0, lead.size(), coloured(lead, paragraph.lead.tone, style_));
    return text;
  }

  std::string operator()(const Facts& facts) const {
    std::size_t width = 0;
    for (const auto& [label, text] : facts.lines) width = std::max(width, display_width(label));
    std::string result;
    for (const auto& [label, text] : facts.lines) {
      const std::string space(width + 2 - display_width(label), ' ');
      result += hanging(label + space, width + 2, text, style_);
    }
    return result;
  }

  std::string operator()(const Bullets& bullets) const {
    std::string result;
    for (const std::string& line : bullets.lines) result += hanging("- ", 2, line, style_);
    return result;
  }

  std::string operator()(const Advice& advice) const {
    std::string result = coloured(advice.lead.words, advice.lead.tone, style_) + '\n' +
                         hanging("  ", 2, advice.text, style_);
    if (!advice.source.empty()) result += hanging("  ", 2, "Source: " + advice.source, style_);
    return result;
  }

  std::string operator()(const Table& table) const { return table_text(table, style_); }

  std::string operator()(const Drawing& drawing) const { return drawing.lines; }

 private:
  const OutputStyle& style_;
};

struct MarkdownLayout {
  std::string operator()(const Heading& heading) const {
    return "## " + markdown_escaped(heading.text) + '\n';
  }

  std::string operator()(const Paragraph& paragraph) const {
    const std::string& lead = paragraph.lead.words;
    return (lead.empty() ? "" : "**" + markdown_escaped(lead) + ":** ") +
           markdown_escaped(paragraph.text) + '\n';
  }

  std::string operator()(const Facts& facts) const {
    std::string result;
    for (const auto& [label, text] : facts.lines) {
      result += "- **" + markdown_escaped(label) + ":** " + markdown_escaped(text) + '\n';
    }
    return result;
  }

  std::string operator()(const Bullets& bullets) const {
    std::string result;
    for (const std::string& line : bullets.lines) result += "- " + markdown_escaped(line) + '\n';
    return result;
  }

  std::string operator()(const Advice& advice) const {
    std::string result =
        "- **" + markdown_escaped(advice.lead.words) + ".** " + markdown_escaped(advice.text);
    if (!advice.source.empty()) result += " Source: " + markdown_escaped(advice.source);
    return result + '\n';
  }

  std::string operator()(const Table& table) const { return table_markdown(table); }

  std::string operator()(const Drawing& drawing) const { return "```\n" + drawing.lines + "```\n"; }
};

template <typename Layout>
std::string laid_out(const Document& document, const Layout& layout) {
  std::string result;
  for (const Block& block : document) {
    if (!result.empty()) result += '\n';
    result += std::visit(layout, block);
  }
  return result;
}

}  // namespace

std::string coloured(const std::string& words, Tone tone, const OutputStyle& style) {
  if (!style.colour || tone == Tone::plain) return words;
  // ECMA-48 SGR: bold, with green, yellow or red.
  const char* const code = tone == Tone::good ? "32" : tone == Tone::caution ? "33" : "31";
  return std::string("\x1b[1;") + code + "m" + words + "\x1b[0m";
}

void append_bullets(Document& document, const char* heading,
                    const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  document.emplace_back(Heading{heading});
  document.emplace_back(Bullets{lines});
}

std::string document_text(const Document& document, const OutputStyle& style) {
  return laid_out(document, TextLayout(style));
}

std::string document_markdown(const Document& document) {
  return laid_out(document, MarkdownLayout());
}

}  // namespace amptally::report
