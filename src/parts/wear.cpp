#include "amptally/wear.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace amptally::inline v0_1 {
namespace {

// The first value, those where the series turns, and the last.
std::vector<double> turning_points(std::span<const double> series) {
  if (series.empty()) return {};
  std::vector<double> points = {series.front()};
  double last = series.front();
  bool rises = false;
  bool has_moved = false;
  for (const double value : series) {
    if (value == last) continue;
    const bool up = value > last;
    if (has_moved && up != rises) points.push_back(last);
    has_moved = true;
    rises = up;
    last = value;
  }
  if (has_moved) points.push_back(last);
  return points;
}

Cycle cycle(double a, double b, double count) {
  return {.range = std::abs(a - b), .mean = (a + b) / 2, .count = count};
}

std::vector<std::pair<double, double>> cycle_curve(const Battery& battery) {
  std::vector<std::pair<double, double>> points;
  for (const CyclePoint& point : battery.cycles)
    points.emplace_back(point.depth_share, point.cycles);
  if (points.empty()) {
    const Curve usual = battery_type(battery.kind).cycles;
    points.assign(usual.begin(), usual.end());
  }
  return points;
}

// The curve as straight pieces on logarithmic axes, as makers print it; the first and last pieces
// go on beyond it. One point stands for a curve on which depth times cycles stays the same.
class LogCurve {
 public:
  explicit LogCurve(const Battery& battery) {
    for (const auto& [depth, cycles] : cycle_curve(battery)) {
      points_.emplace_back(std::log(depth), std::log(cycles));
    }
  }

  [[nodiscard]] double cycles(double depth) const {
    if (!(depth > 0)) return std::numeric_limits<double>::infinity();
    const double x = std::log(depth);
    if (points_.size() == 1) return std::exp(points_[0].second - (x - points_[0].first));
    std::size_t i = 1;
    while (i + 1 < points_.size() && x > points_[i].first) ++i;
    const auto& [x0, y0] = points_[i - 1];
    const auto& [x1, y1] = points_[i];
    return std::exp(y0 + (y1 - y0) * (x - x0) / (x1 - x0));
  }

 private:
  std::vector<std::pair<double, double>> points_;
};

// A battery is at the end of its life at 80 % of its printed capacity (IEEE Std 1188, from memory;
// cycle curves are counted down to it). On the way its capacity is taken to fall in a straight line
// (common practice, no source).
constexpr double kEndOfLife_share = 0.8;

double left_share(const Battery& battery) {
  return std::clamp((battery.health_share - kEndOfLife_share) / (1 - kEndOfLife_share), 0.0, 1.0);
}

}  // namespace

std::vector<Cycle> rainflow(std::span<const double> series) {
  std::vector<Cycle> cycles;
  std::vector<double> open;  // turning points not yet counted; the first is the standard's S
  for (const double point : turning_points(series)) {
    open.push_back(point);
    while (open.size() >= 3) {
      const std::size_t n = open.size();
      const double x = std::abs(open[n - 1] - open[n - 2]);
      const double y = std::abs(open[n - 2] - open[n - 3]);
      if (x < y) break;
      if (n == 3) {  // Y holds S: half a cycle, and S moves on
        cycles.push_back(cycle(open[0], open[1], 0.5));
        open.erase(open.begin());
      } else {
        cycles.push_back(cycle(open[n - 3], open[n - 2], 1));
        open[n - 3] = open[n - 1];
        open.resize(n - 2);
      }
    }
  }
  for (std::size_t i = 0; i + 1 < open.size(); ++i) {
    cycles.push_back(cycle(open[i], open[i + 1], 0.5));
  }
  return cycles;
}

double cycles_at_depth(const Battery& battery, double depth_share) {
  return LogCurve(battery).cycles(depth_share);
}

double wear(const Battery& battery, std::span<const Cycle> cycles, double depth_factor) {
  const LogCurve curve(battery);
  double sum = 0;
  for (const Cycle& c : cycles) sum += c.count / curve.cycles(c.range * depth_factor);
  return sum;
}

double shelf_life_years(const Battery& battery, const Monthly& temp_c) {
  // A battery ages twice as fast for each 10 K above 25 deg C, and no slower in the cold than
  // at 25.
  double pace = 0;  // years of shelf life used up a year
  for (const double t : temp_c) pace += std::max(1.0, std::exp2((t - 25) / 10)) / 12;
  return battery.shelf_life_years.value_or(battery_type(battery.kind).shelf_life_years) / pace;
}

Life battery_life(const Battery& battery, const Monthly& temp_c, double wear_a_year,
                  double half_depth_wear_a_year) {
  Life life;
  life.by_age_years = shelf_life_years(battery, temp_c);
  life.by_depth_years = 1 / wear_a_year;
  life.worn_by_depth = life.by_depth_years < life.by_age_years;
  life.years = std::min(life.by_depth_years, life.by_age_years);
  life.half_depth_years = std::min(1 / half_depth_wear_a_year, life.by_age_years);
  const double left = left_share(battery);
  for (double* years :
       {&life.years, &life.by_depth_years, &life.by_age_years, &life.half_depth_years}) {
    *years = left > 0 ? *years * left : 0;
  }
  return life;
}

}  // namespace amptally::inline v0_1
