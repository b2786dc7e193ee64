#include "cli/rough_study.hpp"

namespace amptally::cli {

namespace {

// Chosen: the shipped sun alone is one range, which so many cases go through evenly.
constexpr int kCasesOfOneRange = 32;

bool is_told(const OutputOptions& output) {
  using report::Format;
  return output.format == Format::json || (output.format != Format::csv && !output.quiet);
}

}  // namespace

bool tells_ranges(const Site& site, const OutputOptions& output) {
  return is_told(output) && !site.rough.empty();
}

std::optional<RoughOptions> rough_options(const Site& site, const WeatherChoice& weather,
                                          bool exact_climate, const OutputOptions& output) {
  RoughOptions options{.exact_climate = exact_climate};
  if (site.rough.empty()) {
    if (counted_climate_error(site, weather, exact_climate) == 0) return std::nullopt;
    options.cases = kCasesOfOneRange;
  }
  if (!is_told(output)) return std::nullopt;
  return options;
}

std::optional<RoughStudy> rough_study(const Site& site, const WeatherChoice& weather,
                                      bool exact_climate, const OutputOptions& output) {
  const std::optional<RoughOptions> options = rough_options(site, weather, exact_climate, output);
  if (!options) return std::nullopt;
  return study_rough(site, weather, *options);
}

}  // namespace amptally::cli
