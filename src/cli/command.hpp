#pragma once

#include <functional>
#include <iosfwd>
#include <memory>
#include <string>
#include <vector>

#include "cli/option.hpp"
#include "cli/status.hpp"
#include "cli/terminal.hpp"

namespace amptally::cli {

/// What a command works with besides its options.
struct CommandContext {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  const Terminal& terminal;
};

/// What a command has to say.
struct CommandResult {
  std::string text;       ///< the result
  std::string file = {};  ///< where it goes; empty or "-": standard output
  Status status = Status::done;
};

/// What every command has; the parser sees to it.
[[nodiscard]] inline Option help_option() {
  return {.names = {"-h", "--help"}, .help = "print this help and stop"};
}

/// A command of the program with all that is known of it. Each is made in the file of its name and
/// is a row of the table in command_table.cpp.
struct Command {
  std::string name = {};
  std::string help = {};      ///< the question that it answers
  std::string examples = {};  ///< command lines; after an empty line perhaps a remark
  std::vector<Option> words = {};
  std::vector<Option> options = {help_option()};
  bool keeps_files = false;  ///< never writes over a file that is there
  /// What must hold between the options, asked when all were taken; may be none.
  /// @throws UsageError
  std::function<void()> check = {};
  /// Reads, works out and reports, with the options that were taken. It writes nothing: `run` does,
  /// when all has gone well. Only `sweep`, which may go on for hours, writes as it goes.
  std::function<CommandResult(const CommandContext& context)> run = {};

  /// Says what is run.
  /// @return the options that it will be run with, for what takes them to fill
  template <class Options>
  [[nodiscard]] Options& runs(CommandResult (*function)(const Options&, const CommandContext&)) {
    const auto filled = std::make_shared<Options>();
    run = [filled, function](const CommandContext& context) { return function(*filled, context); };
    return *filled;
  }
};

}  // namespace amptally::cli
