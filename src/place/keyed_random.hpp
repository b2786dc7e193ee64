#pragma once

#include <cstdint>

namespace amptally::inline v0_1 {

/// Evenly spread number, 0..1, that depends on its three keys only: any day of any year can be
/// drawn by any thread in any order. SplitMix64's finaliser (Steele, Lea & Flood 2014), once a key.
[[nodiscard]] double keyed_random(std::uint64_t seed, std::uint64_t year, std::uint64_t day);

}  // namespace amptally::inline v0_1
