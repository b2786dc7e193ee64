#include "text/message_text.hpp"

#include <fmt/format.h>

#include "text/utf8.hpp"

namespace amptally::inline v0_1 {

namespace {

/// Chosen: longer values are recognised by their start, and a message stays one line.
constexpr int kMaxCharacters = 60;

void append_escaped(std::string& out, char c) {
  const auto byte = static_cast<unsigned char>(c);
  if (c == '\n') {
    out += "\\n";
  } else if (c == '\t') {
    out += "\\t";
  } else if (byte < 0x20 || byte == 0x7F) {
    out += fmt::format("\\u{:04x}", byte);
  } else {
    out += c;
  }
}

std::string joined(std::span<const std::string_view> words, std::string_view before_last) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? before_last : ", ";
    out += words[i];
  }
  return out;
}

}  // namespace

std::string on_one_line(std::string_view text) {
  std::string out;
  int characters = 0;
  for (const char c : text) {
    if (begins_character(c) && ++characters > kMaxCharacters) {
      out += "...";
      break;
    }
    append_escaped(out, c);
  }
  return out;
}

std::string in_quotes(std::string_view text) { return '"' + on_one_line(text) + '"'; }

std::string any_of(std::span<const std::string_view> words) { return joined(words, " or "); }

std::string all_of(std::span<const std::string_view> words) { return joined(words, " and "); }

}  // namespace amptally::inline v0_1
