#include "sitefile/schema.hpp"

#include "cli/commands.hpp"

namespace amptally::cli {

CommandResult run_command(const SchemaOptions& options, const CommandContext&) {
  return {.text = options.parts ? io::parts_schema() : io::site_schema(), .file = options.file};
}

}  // namespace amptally::cli
