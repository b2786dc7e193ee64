#pragma once

#include <algorithm>
#include <functional>
#include <map>
#include <utility>
#include <vector>

namespace amptally {

/// A pair of rungs on two ladders, counted from 0.
struct Corner {
  int a;
  int b;

  bool operator==(const Corner&) const = default;
};

/// The edge of what is good on a grid where more of either kind does no harm: the good pairs of
/// which neither member can be a rung smaller. Every question is asked once.
class Staircase {
 public:
  Staircase(int size_a, int size_b, std::function<bool(int, int)> is_good)
      : size_a_(size_a), size_b_(size_b), is_good_(std::move(is_good)) {}

  /// By rising a, falling b. Walked from the end of the largest a and the smallest b, where a
  /// failure costs least to find out; at most size_a + size_b questions, and one for each corner.
  std::vector<Corner> corners() {
    std::vector<Corner> found;
    int a = size_a_ - 1;
    int b = 0;
    while (a >= 0 && b < size_b_) {
      if (!good(a, b)) {
        ++b;
        continue;
      }
      while (a > 0 && good(a - 1, b)) --a;
      const Corner corner = settled({a, b});
      if (found.empty() || found.back() != corner) found.push_back(corner);
      --a;
      ++b;
    }
    std::reverse(found.begin(), found.end());
    return found;
  }

  [[nodiscard]] int questions() const { return static_cast<int>(known_.size()); }

 private:
  bool good(int a, int b) {
    const auto [it, is_new] = known_.try_emplace({a, b}, false);
    if (is_new) it->second = is_good_(a, b);
    return it->second;
  }

  // The walk takes it for granted that what failed with a larger partner fails with a smaller one.
  // Rounding may have it otherwise by a hair: asked here, so that a corner is one.
  Corner settled(Corner at) {
    for (;;) {
      if (at.b > 0 && good(at.a, at.b - 1)) {
        --at.b;
      } else if (at.a > 0 && good(at.a - 1, at.b)) {
        --at.a;
      } else {
        return at;
      }
    }
  }

  int size_a_;
  int size_b_;
  std::function<bool(int, int)> is_good_;
  std::map<std::pair<int, int>, bool> known_;
};

}  // namespace amptally
