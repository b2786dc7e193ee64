#pragma once

#include <span>
#include <string>
#include <string_view>

namespace amptally::inline v0_1 {

/// `text` fit for a one-line message.
///
/// Control characters are written as escapes, and text past 60 characters is cut with "...", so
/// that a hostile or binary value can neither flood nor garble a terminal.
[[nodiscard]] std::string on_one_line(std::string_view text);

/// The same in double quotes.
[[nodiscard]] std::string in_quotes(std::string_view text);

/// The words as a choice: "A, mA or uA".
[[nodiscard]] std::string any_of(std::span<const std::string_view> words);

/// The words as a list: "A, mA and uA".
[[nodiscard]] std::string all_of(std::span<const std::string_view> words);

}  // namespace amptally::inline v0_1
