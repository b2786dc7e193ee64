#include "cli/interrupt.hpp"

namespace amptally::cli {
namespace {

volatile std::sig_atomic_t interrupted = 0;

void note_interrupt(int /*signal*/) { interrupted = 1; }

}  // namespace

InterruptWatch::InterruptWatch() : before_{} {
  interrupted = 0;
  ::sigaction(SIGINT, nullptr, &before_);
  if (before_.sa_handler == SIG_IGN) return;
  struct sigaction watch {};
  watch.sa_handler = note_interrupt;
  watch.sa_flags = SA_RESTART | static_cast<int>(SA_RESETHAND);
  ::sigaction(SIGINT, &watch, nullptr);
}

InterruptWatch::~InterruptWatch() { ::sigaction(SIGINT, &before_, nullptr); }

bool InterruptWatch::is_interrupted() const { return interrupted != 0; }

}  // namespace amptally::cli
