#pragma once

#include <vector>

#include "cli/command.hpp"

namespace amptally::cli {

/// All commands, in the order in which the help lists them. What tells of the commands (help,
/// completion, manual page, tests) asks here.
[[nodiscard]] std::vector<Command> all_commands();

}  // namespace amptally::cli
