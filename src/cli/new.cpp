#include "cli/commands.hpp"
#include "sitefile/starter.hpp"

namespace amptally::cli {

CommandResult run_command(const NewOptions& options, const CommandContext&) {
  return {.text = io::starter_site(options.place), .file = options.file};
}

}  // namespace amptally::cli
