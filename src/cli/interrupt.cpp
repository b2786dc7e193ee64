#include "cli/interrupt.hpp"

namespace amptally::cli {
namespace {

// A handler is given no context, so this is outside the class: hence one watch at a time.
volatile std::sig_atomic_t last_signal = 0;

void note_signal(int signal) { last_signal = signal; }

}  // namespace

InterruptWatch::InterruptWatch() : before_{} {
  last_signal = 0;
  struct sigaction watch {};
  watch.sa_handler = note_signal;
  // SA_RESTART, so that what is being written is not broken off; SA_RESETHAND, so that a second
  // signal of the kind ends the process.
  watch.sa_flags = SA_RESTART | static_cast<int>(SA_RESETHAND);
  for (std::size_t s = 0; s < kSignals.size(); ++s) {
    ::sigaction(kSignals[s], nullptr, &before_[s]);
    if (before_[s].sa_handler != SIG_IGN) ::sigaction(kSignals[s], &watch, nullptr);
  }
}

InterruptWatch::~InterruptWatch() {
  for (std::size_t s = 0; s < kSignals.size(); ++s) {
    ::sigaction(kSignals[s], &before_[s], nullptr);
  }
}

int InterruptWatch::signal() const { return last_signal; }

}  // namespace amptally::cli
