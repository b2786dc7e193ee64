#pragma once

#include <optional>

#include "amptally/rough.hpp"

#include "cli/options.hpp"

namespace amptally::cli {

/// How many cases a site's ranges and the shipped sun are gone through in; unset where there is
/// neither, or the output would not say what comes of them.
[[nodiscard]] std::optional<RoughOptions> rough_options(const Site& site,
                                                        const WeatherChoice& weather,
                                                        bool exact_climate,
                                                        const OutputOptions& output);

/// Whether the output would say what the site's rough numbers leave open.
[[nodiscard]] bool tells_ranges(const Site& site, const OutputOptions& output);

/// What the site's rough numbers leave open, where it has any and the output would say so: a site
/// without ranges costs nothing more, nor does a verdict alone.
[[nodiscard]] std::optional<RoughStudy> rough_study(const Site& site, const WeatherChoice& weather,
                                                    bool exact_climate,
                                                    const OutputOptions& output);

}  // namespace amptally::cli
