#include "place/day_scores.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "amptally/sun.hpp"

#include "place/keyed_random.hpp"
#include "place/sun_year.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr int kYearsInGroup = 10;

// See day_scores().
constexpr double kMonthShare = 0.05;
constexpr double kMonthToMonth = 0.78;
// Of the days' mean temperature about its smooth year: the median of thirteen stations.
constexpr double kAirDayToDay = 0.70;

// Draws of one year: each kind has keys of its own.
class Draws {
 public:
  Draws(std::uint64_t seed, int year)
      : seed_(seed),
        group_(static_cast<std::uint64_t>(year / kYearsInGroup)),
        shift_(2.0 * (year % kYearsInGroup / 2) / kYearsInGroup),
        mirrored_(year % 2 != 0) {}

  // Standard normal.
  [[nodiscard]] double normal(std::uint64_t key) const {
    double r = keyed_random(seed_, group_, key) + shift_;
    if (r >= 1) r -= 1;
    return normal_quantile(mirrored_ ? 1 - r : r);
  }

 private:
  std::uint64_t seed_;
  std::uint64_t group_;
  double shift_;
  bool mirrored_;
};

// Standard normal numbers each of which follows the one before it by a correlation.
class Chain {
 public:
  double next(double correlation, double normal) {
    last_ =
        started_ ? correlation * last_ + std::sqrt(1 - correlation * correlation) * normal : normal;
    started_ = true;
    return last_;
  }

 private:
  double last_ = 0;
  bool started_ = false;
};

// Nested as (c0 + r (c1 + r (...))).
template <std::size_t N>
double polynomial(const std::array<double, N>& coefficients, double r) {
  double sum = 0;
  for (std::size_t i = N; i-- > 0;) sum = sum * r + coefficients[i];
  return sum;
}

}  // namespace

double normal_quantile(double share) {
  // From memory; a test holds them against the normal distribution of the C library.
  constexpr std::array<double, 4> a = {3.3871327179, 50.434271938, 159.29113202, 59.109374720};
  constexpr std::array<double, 4> b = {1, 17.895169469, 78.757757664, 67.187563600};
  constexpr std::array<double, 4> c = {1.4234372777, 2.7568153900, 1.3067284816, 0.17023821103};
  constexpr std::array<double, 3> d = {1, 0.73700164250, 0.12021132975};
  constexpr std::array<double, 4> e = {6.6579051150, 3.0812263860, 0.42868294337, 0.017337203997};
  constexpr std::array<double, 3> f = {1, 0.24197894225, 0.012258202635};
  // No draw is 0 or 1, but a mirrored one may come to the last bit.
  constexpr double kLeast = 0x1p-54;
  const double q = share - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * polynomial(a, r) / polynomial(b, r);
  }
  const double tail = std::max(kLeast, std::min(share, 1 - share));
  const double r = std::sqrt(-std::log(tail));
  const double out = r <= 5 ? polynomial(c, r - 1.6) / polynomial(d, r - 1.6)
                            : polynomial(e, r - 5) / polynomial(f, r - 5);
  return q < 0 ? -out : out;
}

DayScores day_scores(std::uint64_t seed, int year, const Monthly& day_to_day) {
  constexpr std::uint64_t kMonthKeys = 1000;
  constexpr std::uint64_t kAirKeys = 2000;
  const Draws draws(seed, year);
  Chain months;
  std::array<double, kMonthsPerYear> level{};
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    level[m] = std::sqrt(kMonthShare) * months.next(kMonthToMonth, draws.normal(kMonthKeys + m));
  }
  const double day_part = std::sqrt(1 - kMonthShare);
  Chain days;
  Chain air;
  DayScores scores;
  scores.clearness.reserve(kDaysPerYear);
  scores.air.reserve(kDaysPerYear);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    scores.clearness.push_back(level[month_index(d)] +
                               day_part * days.next(day_to_day[month_index(d)], draws.normal(d)));
    scores.air.push_back(air.next(kAirDayToDay, draws.normal(kAirKeys + d)));
  }
  return scores;
}

}  // namespace amptally::inline v0_1
