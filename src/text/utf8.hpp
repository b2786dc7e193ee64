#pragma once

#include <cstddef>
#include <string_view>

namespace amptally::io {

/// Bytes of the UTF-8 character at the start of `text`; 0 if it is none.
/// Source: Unicode Standard, table 3-7 (well-formed byte sequences), from memory.
[[nodiscard]] std::size_t utf8_length(std::string_view text);

[[nodiscard]] bool is_utf8(std::string_view text);

}  // namespace amptally::io
