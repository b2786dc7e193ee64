#include "report/explain.hpp"

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "site/fields.hpp"
#include "sitefile/field_synonyms.hpp"
#include "sitefile/hint.hpp"

namespace amptally::cli {

CommandResult run_command(const ExplainOptions& options, const CommandContext& context) {
  const report::Look look = look_of(options.output, context.terminal);
  if (options.path.empty()) {
    return {.text = explain_report(all_fields(), look), .file = options.output.file};
  }
  const Field* const field = field_meant_by(options.path);
  if (field == nullptr) {
    throw UsageError(fmt::format("no field \"{}\"{}; amptally explain lists them all", options.path,
                                 io::hint(io::near_miss_field(options.path))));
  }
  return {.text = explain_report(with_members(*field), look), .file = options.output.file};
}

}  // namespace amptally::cli
