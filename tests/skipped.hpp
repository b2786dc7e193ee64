#pragma once

#include <iostream>
#include <string_view>

namespace amptally::testing {

/// Says why a test, or a part of one, cannot run on this machine: tests/run counts such lines.
inline void skipped(std::string_view why) { std::cout << "skipped: " << why << '\n'; }

}  // namespace amptally::testing
