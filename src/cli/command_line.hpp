#pragma once

#include <functional>

#include "cli/command.hpp"

namespace amptally::cli {

/// What a command line asks for, ready to be run.
/// @throws UsageError
[[nodiscard]] std::function<CommandResult(const CommandContext&)> read_command_line(
    int argc, const char* const* argv);

}  // namespace amptally::cli
