#include "text/utf8.hpp"

namespace amptally::inline v0_1 {

Utf8Character utf8_character(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text[0]);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC0 || lead > 0xF7 || bytes > text.size()) return {lead, 1, false};
  char32_t code = lead & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if (begins_character(text[i])) return {lead, 1, false};
    code = (code << 6U) | (static_cast<unsigned char>(text[i]) & 0x3FU);
  }
  const char32_t least = bytes == 2 ? 0x80 : bytes == 3 ? 0x800 : 0x10000;
  const bool is_surrogate = code >= 0xD800 && code <= 0xDFFF;
  return {code, bytes, code >= least && !is_surrogate && code <= 0x10FFFF};
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    if (!next.is_well_formed) return false;
    text.remove_prefix(next.bytes);
  }
  return true;
}

}  // namespace amptally::inline v0_1
