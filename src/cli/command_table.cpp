#include "cli/command_table.hpp"

namespace amptally::cli {

// Each is in the file of its name.
Command budget_command();
Command size_command();
Command fit_command();
Command levers_command();
Command sweep_command();
Command sun_command();
Command water_command();
Command wiring_command();
Command report_command();
Command check_command();
Command places_command();
Command explain_command();
Command new_command();
Command schema_command();

std::vector<Command> all_commands() {
  return {budget_command(), size_command(),    fit_command(),    levers_command(), sweep_command(),
          sun_command(),    water_command(),   wiring_command(), report_command(), check_command(),
          places_command(), explain_command(), new_command(),    schema_command()};
}

}  // namespace amptally::cli
