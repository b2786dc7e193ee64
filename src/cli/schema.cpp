#include "io/schema.hpp"

#include "cli/commands.hpp"

namespace amptally::cli {

Outcome run_command(const SchemaOptions& options, const Surroundings&) {
  return {.text = options.parts ? io::parts_schema() : io::site_schema(), .file = options.file};
}

}  // namespace amptally::cli
