#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Text measured, cut and wrapped in columns of a terminal, whatever the locale. Text is UTF-8; a
/// byte that is not counts as one column.
namespace amptally::report {

/// Columns that `text` takes on a terminal: 2 for a wide East Asian character, 0 for a combining
/// mark, else 1.
[[nodiscard]] std::size_t display_width(std::string_view text);

/// `text` in at most `columns`, its end replaced by an ellipsis when it is longer.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t columns);

/// `text` broken at spaces into lines of at most `columns`, a figure never from its unit; a longer
/// word gets a line of its own.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t columns);

/// `text` with control characters replaced by "?", so that a name from a file can neither break a
/// line nor command the terminal.
[[nodiscard]] std::string printable(std::string_view text);

/// `text` in ASCII, for a terminal without UTF-8: the signs our tables use are spelled out, any
/// other character is "?".
[[nodiscard]] std::string ascii(std::string_view text);

}  // namespace amptally::report
