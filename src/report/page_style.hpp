#pragma once

#include <string_view>

namespace amptally::report {

/// The page's style sheet. It holds no `<` and no `&`, so that it may stand in XML as it is.
[[nodiscard]] std::string_view page_style();

}  // namespace amptally::report
