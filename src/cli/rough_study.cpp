#include "cli/rough_study.hpp"

namespace amptally::cli {

std::optional<RoughStudy> rough_study(const Site& site, const WeatherChoice& weather,
                                      bool exact_climate, const OutputOptions& output) {
  using report::Format;
  const bool is_said =
      output.format == Format::json || (output.format != Format::csv && !output.quiet);
  if (site.rough.empty() || !is_said) return std::nullopt;
  return study_rough(site, weather, {.exact_climate = exact_climate});
}

}  // namespace amptally::cli
