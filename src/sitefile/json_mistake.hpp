#pragma once

#include <string>
#include <string_view>

#include "sitefile/json_text.hpp"
#include "sitefile/text_cursor.hpp"

namespace amptally::io {

/// Where in the grammar a JSON text went wrong.
struct BrokenAt {
  enum class After { nothing, opening, key, value, everything };

  After after = After::nothing;  ///< the last good token
  bool in_object = false;        ///< the innermost open bracket is {, else [
  TextPosition opened;           ///< where that bracket stood
  std::string key;               ///< the last key, when after == key
  std::string_view token;        ///< the last value as written, when after == value
  TextPosition token_position;
};

/// What is wrong at `cursor`, which stands just behind the last good token, in plain words.
[[nodiscard]] JsonError explain_mistake(TextCursor cursor, const BrokenAt& where);

/// Throws JsonError if `text` is not UTF-8, or holds characters that no text file has.
void check_encoding(std::string_view text);

}  // namespace amptally::io
