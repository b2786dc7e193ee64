#pragma once

#include <optional>

#include "amptally/rough.hpp"

#include "cli/options.hpp"

namespace amptally::cli {

/// What the site's rough numbers leave open, where it has any and the output would say so: a site
/// without ranges costs nothing more, nor does a verdict alone.
[[nodiscard]] std::optional<RoughStudy> rough_study(const Site& site, const WeatherChoice& weather,
                                                    bool exact_climate,
                                                    const OutputOptions& output);

}  // namespace amptally::cli
