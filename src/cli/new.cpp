#include "cli/commands.hpp"
#include "io/starter.hpp"

namespace amptally::cli {

Outcome run_command(const NewOptions& options, const Surroundings&) {
  return {.text = io::starter_site(options.place), .file = options.file};
}

}  // namespace amptally::cli
