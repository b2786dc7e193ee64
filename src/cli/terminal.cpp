#include "cli/terminal.hpp"

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <string>
#include <string_view>
#include <sys/ioctl.h>
#include <unistd.h>

namespace amptally::cli {
namespace {

std::string_view environment(const char* name) {
  const char* const value = std::getenv(name);
  return value == nullptr ? std::string_view() : value;
}

int terminal_columns() {
  const std::string_view given = environment("COLUMNS");
  int columns = 0;
  std::from_chars(given.data(), given.data() + given.size(), columns);
  if (columns > 0) return columns;
  winsize size{};
  const bool is_known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
  return is_known ? size.ws_col : Terminal().columns;
}

/// Whether the locale's characters are UTF-8: the first of these that is set decides, as in POSIX.
bool locale_is_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    std::string value(environment(name));
    if (value.empty()) continue;
    std::transform(value.begin(), value.end(), value.begin(),
                   [](unsigned char c) { return c < 'a' ? static_cast<char>(c | 0x20) : c; });
    return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace

Terminal standard_output() {
  const bool has_messages = isatty(STDERR_FILENO) != 0;
  if (isatty(STDOUT_FILENO) == 0) return {.has_messages = has_messages};
  return {.is_terminal = true,
          .columns = terminal_columns(),
          .utf8 = locale_is_utf8(),
          .wants_colour = environment("NO_COLOR").empty() && environment("TERM") != "dumb",
          .has_messages = has_messages};
}

}  // namespace amptally::cli
