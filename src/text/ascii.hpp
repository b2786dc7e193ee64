#pragma once

#include <string_view>

/// ASCII letters, digits and blanks, whatever the locale.
namespace amptally::inline v0_1 {

/// A letter A..Z in lower case, any other byte as it is.
[[nodiscard]] constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// A letter a..z as a capital, any other byte as it is.
[[nodiscard]] constexpr char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// `text` without blanks and tabs at its ends.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace amptally::inline v0_1
