#include <cmath>
#include <span>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "amptally/balance.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: what `--years` takes too; means over more tell nothing new.
constexpr int kMostYears = 1000;

/// Notes a column that has not one finite number for each step.
void check_column(const std::string& name, std::span<const double> values, std::size_t steps,
                  std::vector<SiteProblem>& problems) {
  if (values.size() != steps) {
    problems.push_back(
        {"weather.series." + name, fmt::format("{} values instead of {}", values.size(), steps)});
  }
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (std::isfinite(values[i])) continue;
    problems.push_back(
        {fmt::format("weather.series.{}[{}]", name, i), fmt::format("{} is no number", values[i])});
    return;  // one tells enough
  }
}

void check_series(const WeatherSeries& series, std::vector<SiteProblem>& problems) {
  if (series.years < 1) {
    problems.push_back({"weather.series.years", fmt::format("{} is not above 0", series.years)});
    return;
  }
  const std::size_t steps = series.steps_a_year() * static_cast<std::size_t>(series.years);
  check_column("global_wh_m2", series.global_wh_m2, steps, problems);
  for (const auto& [name, values] : {std::pair{"direct_wh_m2", &series.direct_wh_m2},
                                     std::pair{"diffuse_wh_m2", &series.diffuse_wh_m2},
                                     std::pair{"air_temp_c", &series.air_temp_c}}) {
    if (!values->empty()) check_column(name, *values, steps, problems);
  }
  if (series.lines.size() != steps) {
    problems.push_back({"weather.series.lines",
                        fmt::format("{} values instead of {}", series.lines.size(), steps)});
  }
}

}  // namespace

std::vector<SiteProblem> validate(const Site& site, const WeatherChoice& weather) {
  std::vector<SiteProblem> problems = validate(site);
  const auto mode = static_cast<int>(weather.mode);
  if (mode < 0 || mode > static_cast<int>(WeatherMode::file)) {
    problems.push_back({"weather.mode", fmt::format("{} is none of its kinds", mode)});
  }
  const bool counts_years = weather.mode == WeatherMode::synthetic;
  if (counts_years && (weather.years < 1 || weather.years > kMostYears)) {
    problems.push_back(
        {"weather.years", fmt::format("{} is not in 1..{}", weather.years, kMostYears)});
  }
  if (weather.threads < 1) {
    problems.push_back({"weather.threads", fmt::format("{} is not above 0", weather.threads)});
  }
  if (weather.mode != WeatherMode::file) return problems;
  if (weather.series == nullptr) {
    problems.push_back({"weather.series", "is missing (weather from a file is that of a series)"});
  } else {
    check_series(*weather.series, problems);
  }
  return problems;
}

void require_valid(const Site& site, const WeatherChoice& weather) {
  require_none(validate(site, weather));
}

}  // namespace amptally::inline v0_1
