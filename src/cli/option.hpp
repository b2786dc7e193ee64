#pragma once

#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

namespace amptally::cli {

/// The command line cannot be used; `what()` is one line.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// An option of a command, or a word that it takes by its place. Parser, help, completion and
/// manual page all go by this.
struct Option {
  std::vector<std::string> names = {};  ///< "-o", "--output"; of a word: "SITE"
  /// What is written after it: alternatives parted by |, those to be written as they stand in small
  /// letters. FILE, SITE: a file; PATH: a field of the site file, alone or with =VALUE or =VALUES
  /// behind it; PLACE, WORD: a shipped place.
  /// Empty: nothing, it is a flag. Of a word: its name, or alternatives.
  std::string value = {};
  std::string help = {};  ///< with unit, range and default
  bool is_required = false;
  bool is_repeatable = false;
  bool is_output = false;  ///< its file is written; FILE and SITE of all others are read
  /// Called once for every time it is given; with nothing for a flag. None: the parser's own
  /// --help.
  /// @throws UsageError for a value that cannot be used
  std::function<void(const std::string& value)> take = {};
};

}  // namespace amptally::cli
