#pragma once

#include <string_view>

namespace amptally::cli {

/// Text of the site that `--demo` uses: examples/terrace.json, compiled in.
[[nodiscard]] std::string_view demo_site();

}  // namespace amptally::cli
