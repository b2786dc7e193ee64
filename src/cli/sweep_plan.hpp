#pragma once

#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "sitefile/combinations.hpp"

namespace amptally::cli {

/// Which combinations to run.
struct CombinationOptions {
  std::vector<std::string> axes;       ///< PATH=VALUES, in the order given
  std::string rows_file;               ///< empty: none; "-": standard input
  std::optional<std::uint64_t> draws;  ///< so many by chance instead of all
};

/// The combinations asked for: rows first, then each `--vary` in its order.
/// @throws RefusedSite with every value that cannot be used; DataError for rows that cannot be
///   read; InputError for too many combinations
/// @param seed  of the draws
[[nodiscard]] io::Combinations combinations_of(const CombinationOptions& options,
                                               std::uint64_t seed, std::istream& in);

}  // namespace amptally::cli
