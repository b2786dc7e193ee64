#pragma once

#include <functional>
#include <string>
#include <vector>

#include "results.hpp"

/// What is aimed at, and whether it is met.
namespace weather_truth {

/// Aimed at for every month of a plane where the sun is not low.
inline constexpr double kPlaneMonth_pct = 10;

/// Whether a year's short days lie among those of the synthetic years, or near.
[[nodiscard]] bool is_inside(const Case& c);
[[nodiscard]] bool is_served_alike(const Case& c);

/// Whether the short days of the middle year of a run, of its one in ten, and what is served in all
/// are those of synthetic years.
struct RunCheck {
  bool p50;
  bool p90;
  bool served;
};
[[nodiscard]] RunCheck check_run(const Case& c);

/// Days of shortfall that synthetic years have more than the run: in the middle year, in one in
/// ten.
[[nodiscard]] double too_many_p50(const Case& c);
[[nodiscard]] double too_many_p90(const Case& c);

/// All bars, a line each.
[[nodiscard]] std::string verdict_text(const Results& results);

/// @param cases  at least one
[[nodiscard]] double mean_of(const std::vector<Case>& cases,
                             const std::function<double(const Case&)>& figure);

/// Of how many of the cases something is so, per cent.
[[nodiscard]] double per_cent(const std::vector<Case>& cases,
                              const std::function<bool(const Case&)>& is);

}  // namespace weather_truth
