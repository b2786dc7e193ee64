#pragma once

#include <optional>
#include <vector>

namespace amptally::inline v0_1 {

/// Finds the first good one of a row of steps, where every step after a good one is good. Asks for
/// a few steps at a time, since a study answers several questions in hardly more time than one.
class ThresholdSearch {
 public:
  /// @param size  number of steps, at least 1
  explicit ThresholdSearch(int size) : size_(size), first_good_(size) {}

  /// Steps to be looked at next, rising; empty when the search is over.
  [[nodiscard]] std::vector<int> ask() const {
    if (is_over()) return {};
    // The last step first: where that is not good, none is.
    std::vector<int> steps;
    const int open = first_good_ - last_bad_ - 1;
    constexpr int kAtOnce = 3;  // chosen: they quarter what is open
    for (int q = 1; q <= kAtOnce; ++q) {
      const int step = last_bad_ + q * (open + 1) / (kAtOnce + 1);
      if (step > last_bad_ && (steps.empty() || step > steps.back())) steps.push_back(step);
    }
    if (first_good_ == size_ && steps.back() != size_ - 1) steps.push_back(size_ - 1);
    return steps;
  }

  void learn(int step, bool good) {
    if (good && step < first_good_) first_good_ = step;
    if (!good && step > last_bad_) last_bad_ = step;
  }

  [[nodiscard]] bool is_over() const {
    return last_bad_ >= size_ - 1 || first_good_ <= last_bad_ + 1;
  }

  /// The first good step, once the search is over; unset where there is none.
  [[nodiscard]] std::optional<int> found() const {
    return last_bad_ >= size_ - 1 ? std::nullopt : std::optional(first_good_);
  }

 private:
  int size_;
  int last_bad_ = -1;
  int first_good_;
};

}  // namespace amptally::inline v0_1
