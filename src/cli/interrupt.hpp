#pragma once

#include <csignal>

namespace amptally::cli {

/// Watches for Ctrl-C (SIGINT) as long as it lives, so that a long run can stop between two
/// records. A second Ctrl-C ends the process at once; a signal that was ignored stays ignored, as
/// in jobs that a shell put in the background. One at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;

  [[nodiscard]] bool is_interrupted() const;

 private:
  struct sigaction before_;
};

}  // namespace amptally::cli
