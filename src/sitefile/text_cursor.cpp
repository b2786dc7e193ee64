#include "sitefile/text_cursor.hpp"

#include <algorithm>

#include "text/utf8.hpp"

namespace amptally::io {

namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

bool is_word(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' ||
         c == '-' || c == '+' || c == '.' || static_cast<unsigned char>(c) >= 0x80;
}

/// Length of a comment at the start of `text`; 0 if there is none.
std::size_t comment_length(std::string_view text) {
  if (text.starts_with("//")) return std::min(text.find('\n'), text.size());
  if (!text.starts_with("/*")) return 0;
  const std::size_t end = text.find("*/", 2);
  return end == text.npos ? text.size() : end + 2;
}

std::size_t string_length(std::string_view text) {
  for (std::size_t i = 1; i < text.size(); ++i) {
    if (text[i] == '\\') {
      ++i;
    } else if (text[i] == '"') {
      return i + 1;
    }
  }
  return text.size();
}

}  // namespace

void TextCursor::advance(std::size_t bytes) {
  for (const char c : text_.substr(offset_, bytes)) {
    if (c == '\n') {
      ++position_.line;
      position_.column = 1;
    } else if (begins_character(c)) {
      ++position_.column;
    }
    ++offset_;
  }
}

void TextCursor::skip_blanks() {
  while (!at_end()) {
    const std::size_t bytes = is_blank(peek()) ? 1 : comment_length(rest());
    if (bytes == 0) return;
    advance(bytes);
  }
}

void TextCursor::skip_to_token() {
  for (skip_blanks(); peek() == ',' || peek() == ':'; skip_blanks()) advance(1);
}

std::string_view TextCursor::take_token() {
  const std::string_view text = rest();
  std::size_t length = 0;
  if (peek() == '"') {
    length = string_length(text);
  } else {
    while (length < text.size() && is_word(text[length])) ++length;
    length = std::max<std::size_t>(length, 1);
  }
  const std::string_view token = text.substr(0, length);
  advance(token.size());
  return token;
}

}  // namespace amptally::io
