#pragma once

#include <string>

#include "results.hpp"

namespace weather_truth {

/// Where the bars are missed: a row a plane and battery.
[[nodiscard]] std::string misses_text(const Results& results);

}  // namespace weather_truth
