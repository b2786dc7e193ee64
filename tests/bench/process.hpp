#pragma once

#include <functional>
#include <string>
#include <vector>

namespace amptally::bench {

/// Runs a program to its end.
/// @param arguments  the program's path first
/// @return its standard output
/// @throws std::runtime_error if it cannot be started or its exit status is not 0
std::string run_program(const std::vector<std::string>& arguments);

/// What an action took that ran in a process of its own.
struct OwnProcess {
  double ms = 0;
  long peak_kib = 0;  ///< most memory it held
};

/// @throws std::runtime_error if it did not come to its end
OwnProcess in_own_process(const std::function<void()>& action);

}  // namespace amptally::bench
