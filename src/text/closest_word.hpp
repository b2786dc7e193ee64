#pragma once

#include <span>
#include <string_view>

namespace amptally::inline v0_1 {

/// The word of `candidates` closest to `word` by edit distance (insert, delete, replace, swap of
/// neighbours), ignoring case; empty when none is close enough to be a likely slip. A word cut
/// short
/// ("cap" for "capacity") counts as one slip.
[[nodiscard]] std::string_view near_miss(std::string_view word,
                                         std::span<const std::string_view> candidates);

}  // namespace amptally::inline v0_1
