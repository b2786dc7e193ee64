#pragma once

namespace amptally {

/// A letter A..Z in lower case, any other byte as it is, whatever the locale.
[[nodiscard]] constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

}  // namespace amptally
