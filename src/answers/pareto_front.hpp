#pragma once

#include <algorithm>
#include <functional>
#include <map>
#include <utility>
#include <vector>

namespace amptally::inline v0_1 {

/// A pair of steps on two axes, counted from 0.
struct GridPoint {
  int a;
  int b;

  // NOLINTNEXTLINE(modernize-use-nullptr): the 0 that this makes is no pointer
  auto operator<=>(const GridPoint&) const = default;
};

/// The Pareto front of what is good on a grid where more of either does no harm: the good pairs of
/// which neither member can be a step smaller. Every question is asked once, and many at a time,
/// since many are hardly slower to answer than one.
class ParetoFront {
 public:
  /// Whether each of some pairs is good.
  using Ask = std::function<std::vector<bool>(const std::vector<GridPoint>&)>;

  ParetoFront(int size_a, int size_b, Ask ask)
      : size_b_(size_b),
        ask_(std::move(ask)),
        bad_(static_cast<std::size_t>(size_a), -1),
        good_(static_cast<std::size_t>(size_a), size_b) {}

  /// By rising a, falling b.
  std::vector<GridPoint> points() {
    for (std::vector<GridPoint> round = next_round(); !round.empty(); round = next_round()) {
      learn(round);
    }
    return settled();
  }

 private:
  // For each a: the largest b known to be bad, and the smallest known to be good. A larger a is
  // good with what a smaller one is good with.
  void tighten() {
    for (std::size_t a = bad_.size() - 1; a-- > 0;) bad_[a] = std::max(bad_[a], bad_[a + 1]);
    for (std::size_t a = 1; a < good_.size(); ++a) good_[a] = std::min(good_[a], good_[a - 1]);
  }

  [[nodiscard]] int open(std::size_t a) const { return good_[a] - bad_[a] - 1; }

  // The edge at every 2^n-th a leaves little between for the next: found in that order, but up to
  // three orders at a time, with two questions where more than eight answers are open. Chosen: some
  // 8 rounds and at most 125 questions on a grid of 40 x 40.
  std::vector<GridPoint> next_round() {
    constexpr int kOrdersAtOnce = 3;
    constexpr int kFew = 8;
    tighten();
    std::vector<GridPoint> round;
    int orders = 0;
    std::size_t stride = 1;
    while (stride < bad_.size()) stride *= 2;
    for (; stride >= 1 && orders < kOrdersAtOnce; stride /= 2) {
      const std::size_t before = round.size();
      for (std::size_t a = stride - 1; a < bad_.size(); a += 2 * stride) {
        const int questions = std::min(open(a), open(a) > kFew ? 2 : 1);
        for (int q = 1; q <= questions; ++q) {
          round.push_back({static_cast<int>(a), bad_[a] + q * (open(a) + 1) / (questions + 1)});
        }
      }
      if (round.size() > before) ++orders;
    }
    return round;
  }

  void learn(const std::vector<GridPoint>& round) {
    const std::vector<bool> answers = ask_(round);
    for (std::size_t i = 0; i < round.size(); ++i) {
      const auto a = static_cast<std::size_t>(round[i].a);
      known_[round[i]] = answers[i];
      if (answers[i]) {
        good_[a] = std::min(good_[a], round[i].b);
      } else {
        bad_[a] = std::max(bad_[a], round[i].b);
      }
    }
  }

  // Takes nothing for granted about what is next below a point: rounding may have a pair good by a
  // hair where a larger one is not.
  std::vector<GridPoint> settled() {
    for (;;) {
      std::vector<GridPoint> points = steps();
      std::vector<GridPoint> below;
      for (const GridPoint& point : points) {
        for (const GridPoint& next : {GridPoint{point.a - 1, point.b}, {point.a, point.b - 1}}) {
          if (next.a >= 0 && next.b >= 0 && !known_.contains(next)) below.push_back(next);
        }
      }
      if (below.empty()) return points;
      learn(below);
      tighten();
    }
  }

  [[nodiscard]] std::vector<GridPoint> steps() const {
    std::vector<GridPoint> points;
    int last = size_b_;
    for (std::size_t a = 0; a < good_.size(); ++a) {
      if (good_[a] < last) points.push_back({static_cast<int>(a), good_[a]});
      last = std::min(last, good_[a]);
    }
    return points;
  }

  int size_b_;
  Ask ask_;
  std::vector<int> bad_;
  std::vector<int> good_;
  std::map<GridPoint, bool> known_;
};

}  // namespace amptally::inline v0_1
