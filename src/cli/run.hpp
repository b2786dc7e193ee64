#pragma once

#include <iosfwd>

#include "cli/terminal.hpp"

namespace amptally::cli {

/// The whole program: command line in, result to `out`, messages to `err`, each on one line.
///
/// @param in        what the file name "-" reads
/// @param terminal  what `out` is shown on
/// @return the exit status, see status.hpp; never throws
int run(int argc, const char* const* argv, std::istream& in, std::ostream& out, std::ostream& err,
        const Terminal& terminal = {});

}  // namespace amptally::cli
