#pragma once

#include <iosfwd>

#include "cli/options.hpp"
#include "sitefile/combinations.hpp"

namespace amptally::cli {

/// The combinations asked for: rows first, then each `--vary` in its order.
/// @throws RefusedSite with every value that cannot be used; DataError for rows that cannot be
///   read; InputError for too many combinations
[[nodiscard]] io::Combinations combinations_of(const SweepOptions& options, std::istream& in);

}  // namespace amptally::cli
