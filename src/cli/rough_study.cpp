#include "cli/rough_study.hpp"

namespace amptally::cli {

bool tells_ranges(const Site& site, const OutputOptions& output) {
  using report::Format;
  const bool is_said =
      output.format == Format::json || (output.format != Format::csv && !output.quiet);
  return is_said && !site.rough.empty();
}

std::optional<RoughStudy> rough_study(const Site& site, const WeatherChoice& weather,
                                      bool exact_climate, const OutputOptions& output) {
  if (!tells_ranges(site, output)) return std::nullopt;
  return study_rough(site, weather, {.exact_climate = exact_climate});
}

}  // namespace amptally::cli
