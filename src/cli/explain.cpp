#include "report/explain.hpp"

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "sitefile/hint.hpp"

namespace amptally::cli {

CommandResult run_command(const ExplainOptions& options, const CommandContext& context) {
  const report::OutputStyle style = style_of(options.output, context.terminal);
  if (options.path.empty()) {
    return {.text = explain_report(io::all_fields(), style), .file = options.output.file};
  }
  const io::Field* const field = io::field_meant_by(options.path);
  if (field == nullptr) {
    throw UsageError(fmt::format("no field \"{}\"{}; amptally explain lists them all", options.path,
                                 io::hint(io::near_miss_field(options.path))));
  }
  return {.text = explain_report(io::with_members(*field), style), .file = options.output.file};
}

}  // namespace amptally::cli
