#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/part_sets.hpp"

#include "sitefile/problem.hpp"

namespace amptally::io {

/// A checked parts list, or what keeps the text from being one.
struct PartsReadResult {
  std::optional<PartsList> parts;  ///< set when there are no problems
  std::vector<Problem> problems;   ///< all of them, by line
};

/// Reads and checks a parts list, format amptally-parts/1.
/// @param file_name  what problems call it
[[nodiscard]] PartsReadResult read_parts(std::string_view text, const std::string& file_name);

}  // namespace amptally::io
