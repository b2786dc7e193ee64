#pragma once

#include <string>
#include <string_view>

namespace amptally::cli {

/// The manual page amptally(1), in the `man` macros of roff.
/// @param date  of the version, as YYYY-MM-DD
[[nodiscard]] std::string manual_page(std::string_view date);

}  // namespace amptally::cli
