#pragma once

#include <csignal>
#include <string_view>

namespace amptally::cli {

/// With the signal's number, the status of what a signal stops, as shells have it.
inline constexpr int kSignalled = 128;

/// Exit statuses.
enum class Status {
  done = 0,
  aim_missed = 1,
  refused = 2,
  output_failed = 4,
  internal = 70,  ///< EX_SOFTWARE of BSD sysexits.h
  hung_up = kSignalled + SIGHUP,
  interrupted = kSignalled + SIGINT,
  terminated = kSignalled + SIGTERM,
};

/// The status of a run that this signal, one of those above, has stopped.
[[nodiscard]] constexpr Status stopped_by(int signal) {
  return static_cast<Status>(kSignalled + signal);
}

struct StatusMeaning {
  Status status;
  std::string_view meaning;
};

/// As help, the manual page and docs/outputs.md give them.
inline constexpr StatusMeaning kStatusMeanings[] = {
    {Status::done, "the aim is met, or the command has none"},
    {Status::aim_missed, "it ran, and the aim is not met"},
    {Status::refused, "the command line or the site cannot be used"},
    {Status::output_failed, "the result could not be written"},
    {Status::internal, "a fault of the program itself"},
    {Status::hung_up, "its terminal was closed"},
    {Status::interrupted, "stopped by Ctrl-C"},
    {Status::terminated, "stopped by kill or timeout"},
};

}  // namespace amptally::cli
