#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "report/output_style.hpp"
#include "report/table.hpp"

/// A result for people: what to say, in blocks, once; laid out as text or as Markdown.
namespace amptally::report {

enum class Tone { plain, good, caution, bad };

/// Words that stand out before a text. Colour only repeats what they say.
struct Lead {
  std::string words;
  Tone tone = Tone::plain;
};

struct Heading {
  std::string text;
};

struct Paragraph {
  Lead lead = {};
  std::string text;
};

/// Short lines, each under a label.
struct Facts {
  std::vector<std::pair<std::string, std::string>> lines;
};

struct Bullets {
  std::vector<std::string> lines;
};

/// A point to heed: its lead, the reason, and where the rule comes from.
struct Advice {
  Lead lead;
  std::string text;
  std::string source;
};

/// Lines to be shown as they are.
struct Drawing {
  std::string lines;
};

using Block = std::variant<Heading, Paragraph, Facts, Bullets, Advice, Table, Drawing>;
using Document = std::vector<Block>;

/// `words` in the colour of their tone, where colour is wanted.
[[nodiscard]] std::string coloured(const std::string& words, Tone tone, const OutputStyle& style);

/// Adds a list under its heading; nothing when there are no lines.
void append_bullets(Document& document, const char* heading, const std::vector<std::string>& lines);

/// Blocks with an empty line between.
[[nodiscard]] std::string document_text(const Document& document, const OutputStyle& style);
[[nodiscard]] std::string document_markdown(const Document& document);

/// A result in the form that is wanted, the only one that is made.
/// @param json, csv  give the text
/// @param document   gives the document, for text and Markdown
template <class MakeJson, class MakeCsv, class MakeDocument>
[[nodiscard]] std::string in_form(const OutputStyle& style, const MakeJson& json,
                                  const MakeCsv& csv, const MakeDocument& document) {
  switch (style.format) {
    case Format::json:
      return json();
    case Format::csv:
      return csv();
    case Format::md:
      return document_markdown(document());
    case Format::table:
      break;
  }
  return document_text(document(), style);
}

}  // namespace amptally::report
