#pragma once

#include <string_view>

namespace amptally::cli {

/// Exit statuses.
enum class Status {
  done = 0,
  aim_missed = 1,
  refused = 2,
  output_failed = 4,
  internal = 70,  ///< EX_SOFTWARE of BSD sysexits.h
  // 128 and the signal's number, as shells have it
  hung_up = 129,
  interrupted = 130,
  terminated = 143,
};

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
