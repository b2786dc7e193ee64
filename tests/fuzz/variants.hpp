#pragma once

#include <string>
#include <vector>

#include "sitefile/combinations.hpp"

namespace amptally::fuzz {

/// The first and the last combination of the axes' values are read as the same values given as
/// settings are.
void require_variants(std::vector<io::Axis> axes, std::optional<io::Draws> draws);

}  // namespace amptally::fuzz
