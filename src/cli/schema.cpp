#include "sitefile/schema.hpp"

#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"

namespace amptally::cli {
namespace {

struct SchemaOptions {
  bool parts = false;  ///< of the parts list instead of the site
  std::string file;    ///< as in OutputOptions
};

CommandResult run_schema(const SchemaOptions& options, const CommandContext&) {
  return {.text = options.parts ? io::parts_schema() : io::site_schema(), .file = options.file};
}

}  // namespace

Command schema_command() {
  Command command{.name = "schema",
                  .help = "The JSON Schema of the site file, or of a parts list",
                  .examples =
                      "  amptally schema -o amptally-site.schema.json\n"
                      "  amptally schema parts"};
  SchemaOptions& options = command.runs(run_schema);
  command.words.push_back(
      {.names = {"KIND"},
       .value = "site|parts",
       .help = "of which file (site)",
       .take = [&options](const std::string& word) {
         options.parts = choice_of<bool>("KIND", word, {{"site", false}, {"parts", true}});
       }});
  add_output_file(command, options.file);
  return command;
}

}  // namespace amptally::cli
