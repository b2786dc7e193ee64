#pragma once

namespace amptally::cli {

/// Exit statuses, as docs/outputs.md lists them.
enum class Status {
  done = 0,           ///< the aim is met, or the command has none
  aim_missed = 1,     ///< it ran, and the aim is not met
  refused = 2,        ///< wrong usage or input
  output_failed = 4,  ///< the result could not be written
  internal = 70,      ///< a fault of our own; EX_SOFTWARE of BSD sysexits.h
};

}  // namespace amptally::cli
