#pragma once

#include <iosfwd>
#include <string>

#include "cli/options.hpp"
#include "cli/status.hpp"
#include "cli/terminal.hpp"

/// The commands, each in a file of its name: read, work out, report. They write nothing; `run`
/// does, when all has gone well. Only `sweep`, which may go on for hours, writes as it goes.
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

[[nodiscard]] CommandResult run_command(const ShowText& shown, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const BudgetOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const SizeOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const FitOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const LeversOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const SweepOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const SunOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const WaterOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const WiringOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const CheckOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const PlacesOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const ExplainOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const NewOptions& options, const CommandContext& context);
[[nodiscard]] CommandResult run_command(const SchemaOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const ReportOptions& options,
                                        const CommandContext& context);
[[nodiscard]] CommandResult run_command(const CompleteOptions& options,
                                        const CommandContext& context);

/// How a result is written where it goes.
[[nodiscard]] report::OutputStyle style_of(const OutputOptions& output, const Terminal& terminal);

}  // namespace amptally::cli
