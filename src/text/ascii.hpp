#pragma once

#include <algorithm>
#include <string_view>

/// ASCII letters, digits and blanks, whatever the locale.
namespace amptally {

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
  constexpr std::string_view kBlanks = " \t";
  text.remove_prefix(std::min(text.find_first_not_of(kBlanks), text.size()));
  return text.substr(0, text.find_last_not_of(kBlanks) + 1);
}

}  // namespace amptally
