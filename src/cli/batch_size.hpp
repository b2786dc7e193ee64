#pragma once

#include <chrono>
#include <cstdint>

namespace amptally::cli {

/// How many records to make before they are printed: as many as can be seen to come, and stopped,
/// about twice a second, on fast and slow machines, in short and long weather.
class BatchSize {
 public:
  using Time = std::chrono::steady_clock::duration;

  [[nodiscard]] std::uint64_t records() const { return records_; }

  /// Learns how long the last `records()` of them took.
  void took(Time time) {
    if (records_ < kLargest && time * kStep <= kLongest) records_ *= kStep;
    if (records_ > kSmallest && time > kLongest) records_ /= kStep;
  }

 private:
  // Chosen: a few, where each is slow; a block of designs (64) for each processor of a small
  // machine, which is what a sweep begins with; a thousand, which keep a large one busy and take a
  // few megabytes.
  static constexpr std::uint64_t kSmallest = 16;
  static constexpr std::uint64_t kStep = 8;
  static constexpr std::uint64_t kLargest = kSmallest * kStep * kStep;
  static constexpr Time kLongest = std::chrono::milliseconds(500);

  std::uint64_t records_ = kSmallest * kStep;
};

}  // namespace amptally::cli
