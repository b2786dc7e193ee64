#pragma once

#include <string>

#include "results.hpp"

/// docs/weather.md: its figures, between marks.
namespace weather_truth {

/// `page` with all figures between its marks replaced.
/// @throws std::runtime_error for a mark that is not there
[[nodiscard]] std::string with_figures(std::string page, const Results& results);

}  // namespace weather_truth
