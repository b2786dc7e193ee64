#pragma once

#include <array>
#include <csignal>

namespace amptally::cli {

/// Watches, as long as it lives, for the signals that ask a process to end: Ctrl-C (SIGINT), `kill`
/// and `timeout` (SIGTERM), a terminal that is closed (SIGHUP). So a long run can stop between two
/// records and tidy up. A second one of its kind ends the process at once; a signal that was
/// ignored stays ignored, as in jobs that a shell put in the background. One at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;

  /// The last signal that came; 0: none.
  [[nodiscard]] int signal() const;

 private:
  static constexpr std::array kSignals = {SIGINT, SIGTERM, SIGHUP};
  std::array<struct sigaction, kSignals.size()> before_;
};

}  // namespace amptally::cli
