#pragma once

#include <string>
#include <vector>

namespace amptally::cli {

/// An option of a command, or a word it takes, as its help shows it.
struct OptionText {
  std::vector<std::string> names = {};  ///< "-o", "--output"; of a word: "SITE"
  /// What is written after it: alternatives parted by |, those to be written as they stand in small
  /// letters. FILE, SITE: a file; PATH: a field of the site file, alone or with =VALUE or =VALUES
  /// behind it; PLACE, WORD: a shipped place.
  /// Empty: nothing.
  std::string value = {};
  std::string help = {};
  bool is_repeatable = false;

  friend bool operator==(const OptionText&, const OptionText&) = default;
};

struct CommandText {
  std::string name = {};
  std::string help = {};
  std::vector<OptionText> words = {};  ///< taken by their order, without the name of an option
  std::vector<OptionText> options = {};
  std::string examples = {};  ///< command lines; after an empty line perhaps a remark
};

/// All commands, read from what parses the command line: help, completion and the manual page say
/// the same of a command because they ask the same.
[[nodiscard]] std::vector<CommandText> command_texts();

}  // namespace amptally::cli
