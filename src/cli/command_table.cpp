#include "cli/command_table.hpp"

namespace amptally::cli {

// A row for each command, in the order in which the help lists them: `budget` is made by
// budget_command() in budget.cpp. A macro, so that a command stands here once.
#define AMPTALLY_COMMANDS(ROW) \
  ROW(budget)                  \
  ROW(size)                    \
  ROW(fit)                     \
  ROW(levers)                  \
  ROW(sweep)                   \
  ROW(sun)                     \
  ROW(water)                   \
  ROW(wiring)                  \
  ROW(report)                  \
  ROW(check)                   \
  ROW(places)                  \
  ROW(explain)                 \
  ROW(new)                     \
  ROW(schema)

#define DECLARE(name) Command name##_command();
AMPTALLY_COMMANDS(DECLARE)
#undef DECLARE

std::vector<Command> all_commands() {
#define MAKE(name) name##_command(),
  return {AMPTALLY_COMMANDS(MAKE)};
#undef MAKE
}

}  // namespace amptally::cli
