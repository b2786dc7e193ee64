#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "sitefile/starter.hpp"

namespace amptally::cli {
namespace {

struct NewOptions {
  std::string place;  ///< empty: the starter's own
  std::string file;   ///< as in OutputOptions
};

CommandResult run_new(const NewOptions& options, const CommandContext&) {
  return {.text = io::starter_site(options.place), .file = options.file};
}

}  // namespace

Command new_command() {
  Command command{.name = "new",
                  .help = "A site file to start from",
                  .examples =
                      "  amptally new > site.json\n"
                      "  amptally new --place Lisbon -o lisbon.json"};
  command.keeps_files = true;  // the file that is there may be a site with a day's work in it
  NewOptions& options = command.runs(run_new);
  command.options.push_back({.names = {"--place"},
                             .value = "PLACE",
                             .help = "a shipped place to start with",
                             .take = any_text(options.place)});
  add_output_file(command, options.file);
  return command;
}

}  // namespace amptally::cli
