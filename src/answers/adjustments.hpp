#pragma once

#include <functional>
#include <string>
#include <vector>

#include "amptally/site.hpp"

/// What a lever can move in a site, and in which steps.
namespace amptally::inline v0_1 {

inline constexpr int kSteepest_deg = 90;

/// The site with one of its quantities at a value.
using Change = std::function<Site(Site site, double value)>;

/// A quantity that can be turned one way.
struct Adjustment {
  std::string field;
  std::string unit;
  double now;
  std::vector<double> steps;  ///< from the step next to now to the limit; not empty
  Change with;
};

/// All that more of, or less of, can only help: parts, then loads that choose their time.
[[nodiscard]] std::vector<Adjustment> adjustments_of(const Site& site);

[[nodiscard]] Site with_tilt(Site site, double tilt_deg);

/// Whole degrees from the one next to `now_deg` to `to_deg`.
[[nodiscard]] std::vector<double> degree_steps(double now_deg, double to_deg);

}  // namespace amptally::inline v0_1
