#pragma once

#include <optional>
#include <vector>

namespace amptally {

/// The first good rung of a ladder on which every rung after a good one is good. Asks for a few
/// rungs at a time, since a study answers several questions in hardly more time than one.
class FirstGood {
 public:
  /// @param size  number of rungs, at least 1
  explicit FirstGood(int size) : size_(size), first_good_(size) {}

  /// Rungs to be looked at next, rising; empty when the search is over.
  [[nodiscard]] std::vector<int> ask() const {
    if (is_over()) return {};
    // The last rung first: where that is not good, none is.
    std::vector<int> rungs;
    const int open = first_good_ - last_bad_ - 1;
    constexpr int kAtOnce = 3;  // chosen: eight handles' questions fill a block
    for (int q = 1; q <= kAtOnce; ++q) {
      const int rung = last_bad_ + q * (open + 1) / (kAtOnce + 1);
      if (rung > last_bad_ && (rungs.empty() || rung > rungs.back())) rungs.push_back(rung);
    }
    if (first_good_ == size_ && rungs.back() != size_ - 1) rungs.push_back(size_ - 1);
    return rungs;
  }

  void learn(int rung, bool good) {
    if (good && rung < first_good_) first_good_ = rung;
    if (!good && rung > last_bad_) last_bad_ = rung;
  }

  [[nodiscard]] bool is_over() const {
    return last_bad_ >= size_ - 1 || first_good_ <= last_bad_ + 1;
  }

  /// The first good rung, once the search is over; unset where there is none.
  [[nodiscard]] std::optional<int> found() const {
    return last_bad_ >= size_ - 1 ? std::nullopt : std::optional(first_good_);
  }

 private:
  int size_;
  int last_bad_ = -1;
  int first_good_;
};

}  // namespace amptally
