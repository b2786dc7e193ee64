#include "amptally/rough.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/site_field.hpp"
#include "amptally/study.hpp"
#include "amptally/sun.hpp"

#include "answers/rough_cases.hpp"
#include "answers/severity.hpp"
#include "answers/unchecked_study.hpp"
#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {
namespace {

/// One direction in which the cases differ: a range, or the factor on the shipped sun.
struct Axis {
  std::string field;
  double low;
  double high;
  bool is_sun_factor = false;
};

double middle(const Axis& axis) { return (axis.low + axis.high) / 2; }

std::vector<Axis> axes_of(const Site& site, double climate_error_share) {
  std::vector<Axis> axes;
  for (const RoughInput& input : site.rough) axes.push_back({input.field, input.low, input.high});
  if (climate_error_share > 0) {
    // An even spread over 1 +- h has the rms h / sqrt(3).
    const double half_width = std::sqrt(3.0) * climate_error_share;
    axes.push_back({"place.insolation", 1 - half_width, 1 + half_width, true});
  }
  return axes;
}

void scale_sun(Place& place, double factor) {
  for (int m = 0; m < 12; ++m) {
    double& sun = place.sun_horizontal_kwh_m2_day[static_cast<std::size_t>(m)];
    const double top = extraterrestrial_month_kwh_m2_day(place.latitude_deg, m);
    // No more than reaches the top of the air; a table that has more already keeps what it has.
    sun = std::min(sun * factor, std::max(sun, top));
  }
}

Site with_values(Site site, const std::vector<Axis>& axes, const std::vector<double>& values) {
  for (std::size_t a = 0; a < axes.size(); ++a) {
    if (axes[a].is_sun_factor) {
      scale_sun(site.place, values[a]);
    } else {
      set_site_field(site, axes[a].field, values[a]);
    }
  }
  return site;
}

// ---- The cases -----------------------------------------------------------------------------

/// Root above 1 of x^(n + 1) = x + 1: the golden ratio for n = 1.
double generalised_golden_ratio(std::size_t n) {
  double x = 2;
  // The iteration x -> (1 + x)^(1 / (n + 1)) contracts by at least 3; 40 steps are exact.
  for (int i = 0; i < 40; ++i) x = std::pow(1 + x, 1 / static_cast<double>(n + 1));
  return x;
}

/// One value an axis for each case, evenly spread between the axis' ends.
std::vector<std::vector<double>> spread_cases(const std::vector<Axis>& axes, int cases) {
  const double ratio = generalised_golden_ratio(axes.size());
  std::vector<std::vector<double>> all;
  for (int i = 1; i <= cases; ++i) {
    std::vector<double> values;
    double stride = 1;
    for (const Axis& axis : axes) {
      stride /= ratio;
      const double along = 0.5 + i * stride;
      values.push_back(axis.low + (axis.high - axis.low) * (along - std::floor(along)));
    }
    all.push_back(std::move(values));
  }
  return all;
}

/// After the cases, each axis alone at its low and at its high end.
std::vector<std::vector<double>> end_cases(const std::vector<Axis>& axes) {
  std::vector<double> middles;
  for (const Axis& axis : axes) middles.push_back(middle(axis));
  std::vector<std::vector<double>> all;
  for (std::size_t a = 0; a < axes.size(); ++a) {
    for (const double end : {axes[a].low, axes[a].high}) {
      all.push_back(middles);
      all.back()[a] = end;
    }
  }
  return all;
}

// ---- What matters --------------------------------------------------------------------------

/// Rank of each key among all, equals sharing the mean of theirs. Ranks, since years that go badly
/// do so by leaps: a plain correlation would follow the few worst.
template <class Key>
std::vector<double> ranks(const std::vector<Key>& keys) {
  std::vector<Key> sorted = keys;
  std::sort(sorted.begin(), sorted.end());
  std::vector<double> result;
  for (const Key& key : keys) {
    const auto [first, last] = std::equal_range(sorted.begin(), sorted.end(), key);
    result.push_back(static_cast<double>((first - sorted.begin()) + (last - sorted.begin()) - 1) /
                     2);
  }
  return result;
}

/// Squared correlation of two equally long lists with the same mean (ranks); 0 where one is flat.
double squared_correlation(const std::vector<double>& x, const std::vector<double>& y) {
  const double mean = static_cast<double>(x.size() - 1) / 2;
  double xx = 0;
  double yy = 0;
  double xy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mean) * (x[i] - mean);
    yy += (y[i] - mean) * (y[i] - mean);
    xy += (x[i] - mean) * (y[i] - mean);
  }
  return xx > 0 && yy > 0 ? xy * xy / (xx * yy) : 0;
}

std::vector<RoughShare> measure_first(const std::vector<Axis>& axes,
                                      const std::vector<std::vector<double>>& values,
                                      const std::vector<JudgedYear>& outcomes) {
  std::vector<Severity> fares;
  for (std::size_t i = 0; i < values.size() - 2 * axes.size(); ++i) {
    fares.push_back(severity(outcomes[i].year));
  }
  const std::vector<double> score = ranks(fares);
  std::vector<RoughShare> shares;
  double sum = 0;
  for (std::size_t a = 0; a < axes.size(); ++a) {
    const std::size_t low_end = fares.size() + 2 * a;
    // Over a finite number of cases no correlation is quite 0; where both ends bring the same year,
    // it is chance.
    const bool matters = severity(outcomes[low_end].year) != severity(outcomes[low_end + 1].year);
    std::vector<double> along;
    for (std::size_t i = 0; i < fares.size(); ++i) along.push_back(values[i][a]);
    shares.push_back({axes[a].field, matters ? squared_correlation(ranks(along), score) : 0});
    sum += shares.back().share_of_spread;
  }
  // The cases are spread evenly, but not without any correlation between the axes: the shares can
  // come to more than the whole.
  if (sum > 1) {
    for (RoughShare& share : shares) share.share_of_spread /= sum;
  }
  std::stable_sort(shares.begin(), shares.end(), [](const RoughShare& a, const RoughShare& b) {
    return a.share_of_spread > b.share_of_spread;
  });
  return shares;
}

// A file's years are not cut short, but its cases are fewer where it has many. Chosen: as many
// years in all as 128 cases of eight changeable years, and 32 cases at the least.
int affordable_cases(int wanted, const WeatherChoice& weather) {
  constexpr int kMostYearsInAll = 1024;
  constexpr int kFewestCases = 32;
  return std::min(wanted, std::max(kFewestCases, kMostYearsInAll / year_count(weather)));
}

}  // namespace

double counted_climate_error(const Site& site, const WeatherChoice& weather, bool exact_climate) {
  const ClimateOrigin& origin = site.place.climate;
  const bool counts = !exact_climate && !origin.own_sun && weather.mode != WeatherMode::file;
  return counts ? origin.uncertainty_share : 0;
}

RoughStudy study_rough(const Site& site, const WeatherChoice& weather,
                       const RoughOptions& options) {
  require_valid(site, weather);
  if (options.cases < 1 || options.most_years < 1) {
    throw InputError("cases", fmt::format("{} cases of up to {} years are none to look at",
                                          options.cases, options.most_years));
  }
  WeatherChoice one_case = weather;
  one_case.years = std::min(weather.years, options.most_years);
  const int count = affordable_cases(options.cases, one_case);
  RoughStudy result{.cases = count, .weather = weather.mode};
  result.climate_error_share = counted_climate_error(site, weather, options.exact_climate);
  const std::vector<Axis> axes = axes_of(site, result.climate_error_share);
  std::vector<std::vector<double>> values = spread_cases(axes, count);
  for (std::vector<double>& ends : end_cases(axes)) values.push_back(std::move(ends));

  std::vector<Site> cases;
  for (const std::vector<double>& of_case : values) {
    cases.push_back(with_values(site, axes, of_case));
  }
  const std::vector<JudgedYear> outcomes = UncheckedStudy::run(Study(site, one_case), cases);

  result.years = year_count(one_case);
  const auto met = std::count_if(outcomes.begin(), outcomes.begin() + count,
                                 [](const JudgedYear& outcome) { return outcome.met.holds(); });
  result.meets_aim_share = static_cast<double>(met) / count;
  std::vector<YearBalance> years;
  for (auto i = outcomes.begin(); i < outcomes.begin() + count; ++i) {
    years.push_back(i->year);
  }
  result.spread = spread_of(years);
  result.measure_first = measure_first(axes, values, outcomes);
  return result;
}

RoughCases rough_cases(const Site& site, int cases, bool exact_climate) {
  if (cases < 1) throw InputError("cases", fmt::format("{} cases are none to look at", cases));
  const double error_share =
      counted_climate_error(site, {.mode = WeatherMode::mean}, exact_climate);
  const std::vector<Axis> axes = axes_of(site, error_share);
  RoughCases result{.sites = {}, .climate_error_share = error_share};
  for (const std::vector<double>& values : spread_cases(axes, cases)) {
    result.sites.push_back(with_values(site, axes, values));
  }
  return result;
}

}  // namespace amptally::inline v0_1
