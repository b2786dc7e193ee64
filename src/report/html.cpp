#include "report/html.hpp"

#include "text/utf8.hpp"

namespace amptally::report {
namespace {

/// Whether XML 1.0 allows the character (its production [2]).
bool is_allowed(const Utf8Character& character) {
  const char32_t code = character.code;
  if (!character.is_well_formed) return false;
  if (code < 0x20) return code == '\n' || code == '\t';
  if (code >= 0x7F && code < 0xA0) return false;  // allowed, but they control terminals
  return code != 0xFFFE && code != 0xFFFF;
}

std::string_view escaped(std::string_view character) {
  if (character == "&") return "&amp;";
  if (character == "<") return "&lt;";
  if (character == ">") return "&gt;";
  if (character == "\"") return "&quot;";
  return character;
}

Html opening(std::string_view tag, std::initializer_list<Attribute> attributes) {
  Html html{"<" + std::string(tag)};
  for (const Attribute& attribute : attributes) {
    html.markup += " " + std::string(attribute.name) + "=\"";
    html += html_text(attribute.value);
    html.markup += '"';
  }
  return html;
}

}  // namespace

Html html_text(std::string_view text) {
  Html html;
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    const std::string_view bytes = text.substr(0, next.bytes);
    if (bytes == "\r") {
      // Of a line's end; on its own it breaks nothing.
    } else if (!is_allowed(next)) {
      html.markup += "\uFFFD";
    } else {
      html.markup += escaped(bytes);
    }
    text.remove_prefix(next.bytes);
  }
  return html;
}

Html element(std::string_view tag, std::initializer_list<Attribute> attributes,
             const Html& inside) {
  Html html = opening(tag, attributes);
  html.markup += ">" + inside.markup + "</" + std::string(tag) + ">";
  return html;
}

Html element(std::string_view tag, const Html& inside) { return element(tag, {}, inside); }

Html lone(std::string_view tag, std::initializer_list<Attribute> attributes) {
  Html html = opening(tag, attributes);
  html.markup += " />";
  return html;
}

}  // namespace amptally::report
