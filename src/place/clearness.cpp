#include "place/clearness.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/sun.hpp"

#include "place/tropics.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;

// See clearness_month().
constexpr double kLowest = 0.03;
constexpr double kHighest = 0.80;

// See variable_share().
constexpr double kVariable = 0.48;
constexpr double kLessForEachKelvin = 0.010;
constexpr double kWarmFrom_c = 12;
constexpr double kLessInTheTropics = 0.10;
// See day_to_day().
constexpr double kDayToDay = 0.31;
constexpr double kMoreForClearness = 0.5;
constexpr double kMiddleClearness = 0.5;
constexpr double kLeastDayToDay = 0.20;
constexpr double kMostDayToDay = 0.42;

// Chosen: the hottest months on record keep some spread (Delhi's June, 0.2 of the possible).
constexpr double kLeastVariable = 0.12;

// Nodes of the trapezoidal rule over the normal density. It converges fast for smooth functions:
// with these the mean is exact to 1e-8.
constexpr int kNodes = 33;
constexpr double kFarthest = 6;

struct Node {
  double score;
  double weight;
};

std::array<Node, kNodes> normal_nodes() {
  std::array<Node, kNodes> nodes{};
  double sum = 0;
  for (int i = 0; i < kNodes; ++i) {
    const double score = kFarthest * (2.0 * i / (kNodes - 1) - 1);
    nodes[static_cast<std::size_t>(i)] = {score, std::exp(-score * score / 2)};
    sum += nodes[static_cast<std::size_t>(i)].weight;
  }
  for (Node& node : nodes) node.weight /= sum;
  return nodes;
}

// A position along a curve between two ends, 0..1.
double along(double at) { return 1 / (1 + std::exp(-at)); }

// Mean and variance of `along(middle + slope * score)`, and how they change with both.
struct Moments {
  double mean = 0;
  double variance = 0;
  double mean_by_middle = 0;
  double mean_by_slope = 0;
  double variance_by_middle = 0;
  double variance_by_slope = 0;
};

Moments moments_of(double middle, double slope) {
  static const std::array<Node, kNodes> nodes = normal_nodes();
  Moments m;
  double square = 0;
  for (const auto& [score, weight] : nodes) {
    const double x = along(middle + slope * score);
    const double steepness = weight * x * (1 - x);
    m.mean += weight * x;
    square += weight * x * x;
    m.mean_by_middle += steepness;
    m.mean_by_slope += steepness * score;
    m.variance_by_middle += 2 * steepness * x;
    m.variance_by_slope += 2 * steepness * score * x;
  }
  m.variance = square - m.mean * m.mean;
  m.variance_by_middle -= 2 * m.mean * m.mean_by_middle;
  m.variance_by_slope -= 2 * m.mean * m.mean_by_slope;
  return m;
}

struct Curve {
  double middle;
  double slope;
};

// The curve whose position has this mean, and this share of the variance that a mean allows, by
// Newton's method from the curve of a small spread.
Curve curve_for(double mean, double share) {
  constexpr int kMostSteps = 40;
  constexpr double kClose = 1e-12;
  const double possible = mean * (1 - mean);
  const double variance = share * share * possible;
  double slope = share / std::sqrt(possible);
  double middle = std::log(mean / (1 - mean)) * std::sqrt(1 + pi / 8 * slope * slope);
  for (int step = 0; step < kMostSteps; ++step) {
    const Moments m = moments_of(middle, slope);
    const double mean_off = mean - m.mean;
    const double variance_off = variance - m.variance;
    if (std::abs(mean_off) < kClose && std::abs(variance_off) < kClose) break;
    const double determinant =
        m.mean_by_middle * m.variance_by_slope - m.mean_by_slope * m.variance_by_middle;
    const double by_middle =
        (mean_off * m.variance_by_slope - variance_off * m.mean_by_slope) / determinant;
    const double by_slope =
        (m.mean_by_middle * variance_off - m.variance_by_middle * mean_off) / determinant;
    // Never past half of the way to no slope at all.
    const double part = by_slope == 0 ? 1 : std::min(1.0, 0.5 * slope / std::abs(by_slope));
    middle += part * by_middle;
    slope += part * by_slope;
  }
  return {middle, slope};
}

bool days_differ(double mean) { return mean > kLowest && mean < kHighest; }

// sqrt((mean - lowest)(highest - mean)) over the mean.
double possible_spread(double mean) {
  return days_differ(mean) ? std::sqrt((mean - kLowest) * (kHighest - mean)) / mean : 0;
}

double mean_square(const Monthly& spreads) {
  double squares = 0;
  for (const double spread : spreads) squares += spread * spread;
  return squares / kMonthsPerYear;
}

// The site's own spread over the one foretold, of the year's months together.
double own_over_foretold(const Place& place, const Monthly& clearness, const Monthly& variable) {
  if (!place.day_spread_share) return 1;
  Monthly foretold{};
  Monthly most{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    foretold[m] = day_spread_share(clearness[m], variable[m]);
    most[m] = day_spread_share(clearness[m], kMostVariable);
  }
  const double largest = std::sqrt(mean_square(most));
  if (*place.day_spread_share > largest) {
    throw InputError(
        "place.day_spread",
        fmt::format("{:.0f} % is more than days can differ with such a mean sun: {:.0f} "
                    "% at most",
                    100 * *place.day_spread_share, std::floor(100 * largest)));
  }
  const double square = mean_square(foretold);
  return square > 0 ? *place.day_spread_share / std::sqrt(square) : 1;
}

}  // namespace

double ClearnessMonth::at(double score) const {
  return lowest + (highest - lowest) * along(middle + slope * score);
}

double variable_share(double air_temp_c, double latitude_deg) {
  const double share = kVariable - kLessForEachKelvin * std::max(0.0, air_temp_c - kWarmFrom_c) -
                       kLessInTheTropics * (1 - temperate_share(latitude_deg));
  return std::max(kLeastVariable, share);
}

double day_to_day(double mean) {
  return std::clamp(kDayToDay + kMoreForClearness * (mean - kMiddleClearness), kLeastDayToDay,
                    kMostDayToDay);
}

double day_spread_share(double mean, double variable_share) {
  return variable_share * possible_spread(mean);
}

ClearnessMonth clearness_month(double mean, double variable_share) {
  if (!days_differ(mean) || variable_share <= 0) {
    return {.mean = mean,
            .spread_share = 0,
            .day_to_day = day_to_day(mean),
            .lowest = mean,
            .highest = mean};
  }
  const auto [middle, slope] = curve_for((mean - kLowest) / (kHighest - kLowest), variable_share);
  return {.mean = mean,
          .spread_share = day_spread_share(mean, variable_share),
          .day_to_day = day_to_day(mean),
          .lowest = kLowest,
          .highest = kHighest,
          .middle = middle,
          .slope = slope};
}

std::array<ClearnessMonth, 12> clearness_months(const Place& place) {
  Monthly clearness{};
  Monthly variable{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    const double top = extraterrestrial_month_kwh_m2_day(place.latitude_deg, static_cast<int>(m));
    clearness[m] = top > 0 ? place.sun_horizontal_kwh_m2_day[m] / top : 0;
    variable[m] = variable_share(place.air_temp_c[m], place.latitude_deg);
  }
  const double factor = own_over_foretold(place, clearness, variable);
  std::array<ClearnessMonth, 12> months;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    months[m] = clearness_month(clearness[m], std::min(kMostVariable, factor * variable[m]));
  }
  return months;
}

}  // namespace amptally::inline v0_1
