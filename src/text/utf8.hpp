#pragma once

#include <cstddef>
#include <string_view>

/// UTF-8, whatever the locale.
namespace amptally::inline v0_1 {

/// What stands at the start of a text.
struct Utf8Character {
  char32_t code;        ///< its number; of bytes that cannot begin a character, the first of them
  std::size_t bytes;    ///< that it takes up, at least 1
  bool is_well_formed;  ///< false also for a character in too many bytes, or one of no text
};

/// The character at the start of `text` (not empty).
/// Source: Unicode Standard, table 3-7 (well-formed byte sequences), from memory.
[[nodiscard]] Utf8Character utf8_character(std::string_view text);

[[nodiscard]] bool is_utf8(std::string_view text);

/// Whether a byte begins a character: all do but those that go on with one.
[[nodiscard]] constexpr bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

/// `text` without the mark that some programs put before UTF-8.
[[nodiscard]] constexpr std::string_view without_byte_order_mark(std::string_view text) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  return text;
}

}  // namespace amptally::inline v0_1
