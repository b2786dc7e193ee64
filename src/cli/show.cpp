#include "cli/commands.hpp"

namespace amptally::cli {

Outcome run_command(const ShowText& shown, const Surroundings&) { return {.text = shown.text}; }

}  // namespace amptally::cli
