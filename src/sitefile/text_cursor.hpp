#pragma once

#include <string_view>

#include "sitefile/json_text.hpp"

namespace amptally::io {

/// Walks forward over a JSON text and knows the line and column it stands at.
class TextCursor {
 public:
  explicit TextCursor(std::string_view text) : text_(text) {}

  [[nodiscard]] TextPosition position() const { return position_; }
  [[nodiscard]] bool at_end() const { return offset_ >= text_.size(); }
  /// The character here; NUL at the end.
  [[nodiscard]] char peek() const { return at_end() ? '\0' : text_[offset_]; }
  [[nodiscard]] std::string_view rest() const { return text_.substr(offset_); }

  void advance(std::size_t bytes);
  /// Over blanks and comments.
  void skip_blanks();
  /// Over blanks, comments, and the commas and colons between tokens.
  void skip_to_token();
  /// The token that starts here (a string with its quotes, a number, a word or one sign); passes
  /// it.
  std::string_view take_token();

 private:
  std::string_view text_;
  std::size_t offset_ = 0;
  TextPosition position_{1, 1};
};

}  // namespace amptally::io
