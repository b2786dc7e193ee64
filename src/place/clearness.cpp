#include "place/clearness.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "amptally/sun.hpp"

#include "place/clearness_chain.hpp"
#include "place/clearness_tables.hpp"
#include "place/direction.hpp"

namespace amptally::inline v0_1 {
namespace {

using std::numbers::pi;
using Chances = std::array<std::array<double, kClearnessClasses>, kClearnessClasses>;

// Chosen: the clearest day may pass Haurwitz's sky, a mean over ordinary air, by this factor;
// desert winters do by 10 to 15 %.
constexpr double kClearestOverHaurwitz = 1.15;

// Chosen: the darkest and the clearest day stand off the mean at least by these factors.
constexpr double kDarkestOverMean = 0.5;
constexpr double kClearestOverMean = 1.15;

// Chosen: above this a month's clearness is an artefact of polar twilight; its days are all alike.
constexpr double kMostVariableMean = 0.85;

// See clearness_month().
constexpr double kTropicalSpread = 0.7;
constexpr double kTropicsTo_deg = 15;
constexpr double kFullSpreadFrom_deg = 30;

constexpr int kRunInDays = 20;
constexpr int kYearsInGroup = 10;

double spread_at(double latitude_deg) {
  const double t =
      (std::abs(latitude_deg) - kTropicsTo_deg) / (kFullSpreadFrom_deg - kTropicsTo_deg);
  return kTropicalSpread + (1 - kTropicalSpread) * std::clamp(t, 0.0, 1.0);
}

double middle(const tables::ClearnessMatrix& matrix) { return (matrix.above + matrix.to) / 2; }

// The matrix as it is used: the second may be the mean of the first three.
Chances used_chances(std::size_t index, SecondMatrix second) {
  const auto matrices = tables::clearness_matrices();
  if (index != 1 || second == SecondMatrix::as_printed) return matrices[index].chance;
  Chances mean{};
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    for (std::size_t j = 0; j < kClearnessClasses; ++j) {
      mean[i][j] =
          (matrices[0].chance[i][j] + matrices[1].chance[i][j] + matrices[2].chance[i][j]) / 3;
    }
  }
  return mean;
}

struct Blend {
  double lowest;
  double highest;
  Chances chance;
};

// In proportion between the matrices whose ranges' middles enclose the mean; the end ones beyond.
Blend blended(double mean, SecondMatrix second) {
  const auto matrices = tables::clearness_matrices();
  std::size_t low = 0;
  while (low + 2 < matrices.size() && mean > middle(matrices[low + 1])) ++low;
  const double w = std::clamp(
      (mean - middle(matrices[low])) / (middle(matrices[low + 1]) - middle(matrices[low])), 0.0,
      1.0);
  const Chances a = used_chances(low, second);
  const Chances b = used_chances(low + 1, second);
  Blend blend{};
  blend.lowest = (1 - w) * matrices[low].lowest + w * matrices[low + 1].lowest;
  blend.highest = (1 - w) * matrices[low].highest + w * matrices[low + 1].highest;
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    for (std::size_t j = 0; j < kClearnessClasses; ++j) {
      blend.chance[i][j] = (1 - w) * a[i][j] + w * b[i][j];
    }
  }
  return blend;
}

// Long-run share of the classes: the chain applied until it no longer moves.
std::array<double, kClearnessClasses> stationary(const Chances& chance) {
  std::array<double, kClearnessClasses> share{};
  share.fill(1.0 / kClearnessClasses);
  constexpr int kSteps = 64;  // the slowest mode shrinks by more than a half a step
  for (int step = 0; step < kSteps; ++step) {
    std::array<double, kClearnessClasses> next{};
    for (std::size_t i = 0; i < kClearnessClasses; ++i) {
      for (std::size_t j = 0; j < kClearnessClasses; ++j) next[j] += share[i] * chance[i][j];
    }
    share = next;
  }
  return share;
}

// Logarithms of the ranks at the classes' upper ends.
std::array<double, kClearnessClasses> log_ranks() {
  std::array<double, kClearnessClasses> logs{};
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    logs[i] = std::log(static_cast<double>(i + 1) / kClearnessClasses);
  }
  return logs;
}

// Long-run mean of rank^exponent, ranks evenly spread within a class.
double mean_power(const std::array<double, kClearnessClasses>& share, double exponent) {
  static const std::array<double, kClearnessClasses> log_rank = log_ranks();
  double sum = 0;
  double below = 0;  // what the integral of rank^exponent, times exponent + 1, has come to
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    const double up_to = std::exp(log_rank[i] * (exponent + 1));
    sum += share[i] * (up_to - below);
    below = up_to;
  }
  return sum * kClearnessClasses / (exponent + 1);
}

// The exponent that gives rank^exponent the mean `target`, 0..1; the mean falls as it grows.
double exponent_for(const std::array<double, kClearnessClasses>& share, double target) {
  double low = 0.01;
  double high = 100;
  for (int i = 0; i < 60; ++i) {
    const double half = std::sqrt(low * high);
    (mean_power(share, half) > target ? low : high) = half;
  }
  return std::sqrt(low * high);
}

std::uint64_t mixed(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15U;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31);
}

}  // namespace

double ClearnessMonth::at(double rank) const {
  return lowest + (highest - lowest) * std::pow(rank, exponent);
}

double ClearnessMonth::next(double rank, double random) const {
  const auto from =
      std::min(static_cast<std::size_t>(rank * kClearnessClasses), kClearnessClasses - 1);
  const auto& chances = up_to[from];
  std::size_t to = 0;  // counted, not searched for: nobody can foresee where a search would end
  for (std::size_t j = 0; j + 1 < kClearnessClasses; ++j) to += random >= chances[j] ? 1 : 0;
  const double below = to == 0 ? 0 : chances[to - 1];
  const double width = chances[to] - below;
  // Where in its chance the draw fell says where in the class the day is: evenly spread.
  const double within = width > 0 ? std::clamp((random - below) / width, 0.0, 1.0) : 0.5;
  return (static_cast<double>(to) + within) / kClearnessClasses;
}

double ClearnessMonth::rank_of(double share_below) const {
  double below = 0;
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    if (share_below < below + share[i] || i + 1 == kClearnessClasses) {
      const double within =
          share[i] > 0 ? std::clamp((share_below - below) / share[i], 0.0, 1.0) : 0;
      return (static_cast<double>(i) + within) / kClearnessClasses;
    }
    below += share[i];
  }
  return 1;
}

ClearnessMonth clearness_month(double mean, double clear_sky, double latitude_deg) {
  return clearness_month(mean, clear_sky, latitude_deg, SecondMatrix::mean_of_first_three);
}

ClearnessMonth clearness_month(double mean, double clear_sky, double latitude_deg,
                               SecondMatrix second) {
  ClearnessMonth month;
  month.mean = mean;
  const Blend blend = blended(mean, second);
  month.share = stationary(blend.chance);
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    double sum = 0;
    for (std::size_t j = 0; j < kClearnessClasses; ++j) {
      month.up_to[i][j] = sum += blend.chance[i][j];
    }
  }
  if (!(mean > 0 && mean < kMostVariableMean)) {
    month.lowest = month.highest = mean;
    return month;
  }
  const double lowest = std::min(blend.lowest, kDarkestOverMean * mean);
  const double highest = std::max(std::min(blend.highest, kClearestOverHaurwitz * clear_sky),
                                  kClearestOverMean * mean);
  month.exponent = exponent_for(month.share, (mean - lowest) / (highest - lowest));
  const double spread = spread_at(latitude_deg);
  month.lowest = mean + spread * (lowest - mean);
  month.highest = mean + spread * (highest - mean);
  return month;
}

double clear_sky_clearness(double latitude_deg, int day) {
  const double delta = declination_rad(day);
  const Turn latitude = turn(latitude_deg * pi / 180);
  const Turn declination = turn(delta);
  const double sunset = sunset_hour_angle_rad(latitude_deg * pi / 180, delta);
  constexpr int kSteps = 48;
  const Turn half = turn(sunset / kSteps / 2);
  const Turn step = half + half;
  Turn w = half;
  double clear = 0;
  double top = 0;
  for (int i = 0; i < kSteps; ++i, w = w + step) {  // the afternoon mirrors the morning
    const double cos_z = latitude.sin * declination.sin + latitude.cos * declination.cos * w.cos;
    if (cos_z <= 0) continue;
    clear += 1098 * cos_z * std::exp(-0.057 / cos_z);
    top += cos_z;
  }
  return top > 0 ? clear / (kSolarConstant_w_m2 * eccentricity_factor(day) * top) : 0;
}

double keyed_random(std::uint64_t seed, std::uint64_t year, std::uint64_t day) {
  const std::uint64_t bits = mixed(mixed(mixed(seed) ^ year) ^ day);
  return static_cast<double>(bits >> 11) * 0x1p-53;
}

std::array<ClearnessMonth, 12> clearness_months(const Place& place) {
  return clearness_months(place, SecondMatrix::mean_of_first_three);
}

std::array<ClearnessMonth, 12> clearness_months(const Place& place, SecondMatrix second) {
  std::array<ClearnessMonth, 12> months;
  for (int m = 0; m < 12; ++m) {
    const double top = extraterrestrial_month_kwh_m2_day(place.latitude_deg, m);
    double clear = 0;
    for (int i = 0; i < days_in_month(m); ++i) {
      clear +=
          clear_sky_clearness(place.latitude_deg, first_day_of_month(m) + i) / days_in_month(m);
    }
    const auto index = static_cast<std::size_t>(m);
    const double mean = top > 0 ? place.sun_horizontal_kwh_m2_day[index] / top : 0;
    months[index] = clearness_month(mean, clear, place.latitude_deg, second);
  }
  return months;
}

std::vector<double> synthetic_ranks(const std::array<ClearnessMonth, 12>& months,
                                    std::uint64_t seed, int year) {
  const auto group = static_cast<std::uint64_t>(year / kYearsInGroup);
  const int place = year % kYearsInGroup;
  const int pair = place / 2;
  const double shift = 2.0 * pair / kYearsInGroup;
  const bool mirrored = place % 2 != 0;
  // The days of the run-in have keys of their own, and so has the draw that says where it starts.
  const auto draw = [&](int day) {
    const int key = day + kRunInDays + 1;
    double r = keyed_random(seed, group, static_cast<std::uint64_t>(key)) + shift;
    if (r >= 1) r -= 1;
    return mirrored ? 1 - r : r;
  };
  double rank = months[11].rank_of(draw(-kRunInDays - 1));
  for (int day = -kRunInDays; day < 0; ++day) rank = months[11].next(rank, draw(day));
  std::vector<double> ranks;
  ranks.reserve(kDaysPerYear);
  for (int day = 0; day < kDaysPerYear; ++day) {
    rank = months[static_cast<std::size_t>(month_of_day(day + 1))].next(rank, draw(day));
    ranks.push_back(rank);
  }
  return ranks;
}

}  // namespace amptally::inline v0_1
