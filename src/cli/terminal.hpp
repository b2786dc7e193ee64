#pragma once

namespace amptally::cli {

/// What the result is shown on. The default is a file or a pipe.
struct Terminal {
  bool is_terminal = false;
  int columns = 80;
  bool utf8 = true;
  bool wants_colour = false;  ///< a terminal, and the environment does not refuse colour
  bool has_messages = false;  ///< messages go to a terminal, this one or another
};

/// The standard output of this process, by its file and the environment (COLUMNS, NO_COLOR, TERM
/// and the locale's variables), and whether its standard error is a terminal.
[[nodiscard]] Terminal standard_output();

}  // namespace amptally::cli
