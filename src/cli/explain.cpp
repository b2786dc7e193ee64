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

/// The field whose last name this is; none where several have it, or the path has more names.
const Field* only_field_called(std::string_view name) {
  const Field* only = nullptr;
  for (const Field& field : all_fields()) {
    if (field_name(field) != name) continue;
    if (only != nullptr) return nullptr;
    only = &field;
  }
  return only;
}

CommandResult run_explain(const ExplainOptions& options, const CommandContext& context) {
  const report::OutputStyle style = style_of(options.output, context.terminal);
  if (options.path.empty()) {
    return {.text = explain_report(all_fields(), style), .file = options.output.file};
  }
  const Field* field = field_meant_by(options.path);
  if (field == nullptr) field = only_field_called(options.path);
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
