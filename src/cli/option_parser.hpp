#pragma once

#include <span>
#include <string>
#include <vector>

#include "cli/command.hpp"

/// The one place that knows the library that parses command lines.
namespace amptally::cli {

/// What the program says of itself.
struct ProgramHelp {
  std::string version;
  std::string description;
  std::string footer;  ///< below the commands
};

struct Parsed {
  const Command* command = nullptr;    ///< whose options were taken; null: there is a text to show
  std::string text = {};               ///< help or the version
  std::vector<std::string> read = {};  ///< files that the command is given to read
  std::vector<std::string> written = {};  ///< and to write
};

/// Gives the words of a command line to the options that take them.
///
/// @param words     after the program's name
/// @param commands  those that can be asked for: one, which the first word names, or all, where the
///   words begin with an option of the program
/// @throws UsageError for words that cannot be used, in our own words
[[nodiscard]] Parsed parse_words(std::span<const char* const> words,
                                 std::span<const Command> commands, const ProgramHelp& program);

}  // namespace amptally::cli
