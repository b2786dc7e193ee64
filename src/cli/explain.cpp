#include "report/explain.hpp"

#include <fmt/format.h>

#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "site/fields.hpp"
#include "sitefile/field_synonyms.hpp"
#include "sitefile/hint.hpp"

namespace amptally::cli {
namespace {

struct ExplainOptions {
  std::string path;  ///< empty: all fields
  OutputOptions output;
};

CommandResult run_explain(const ExplainOptions& options, const CommandContext& context) {
  const report::OutputStyle style = style_of(options.output, context.terminal);
  if (options.path.empty()) {
    return {.text = explain_report(all_fields(), style), .file = options.output.file};
  }
  const Field* const field = field_meant_by(options.path);
  if (field == nullptr) {
    throw UsageError(fmt::format("no field \"{}\"{}; amptally explain lists them all", options.path,
                                 io::hint(io::near_miss_field(options.path))));
  }
  return {.text = explain_report(with_members(*field), style), .file = options.output.file};
}

}  // namespace

Command explain_command() {
  Command command{.name = "explain",
                  .help = "What does a field of the site file mean?",
                  .examples =
                      "  amptally explain regulator.standby\n"
                      "  amptally explain"};
  ExplainOptions& options = command.runs(run_explain);
  command.words.push_back({.names = {"PATH"},
                           .value = "PATH",
                           .help = "the field; without it all are listed",
                           .take = any_text(options.path)});
  add_format(command, options.output);
  return command;
}

}  // namespace amptally::cli
