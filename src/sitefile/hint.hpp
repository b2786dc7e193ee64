#pragma once

#include <string>
#include <string_view>

namespace amptally::io {

/// What ends a message about a wrong word: " (did you mean LIKELY?)", or where nothing is likely
/// " (OTHERWISE)", or nothing.
[[nodiscard]] std::string hint(std::string_view likely, std::string_view otherwise = {});

}  // namespace amptally::io
