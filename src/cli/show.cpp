#include "cli/commands.hpp"

namespace amptally::cli {

CommandResult run_command(const ShowText& shown, const CommandContext&) {
  return {.text = shown.text};
}

}  // namespace amptally::cli
