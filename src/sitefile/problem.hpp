#pragma once

#include <string>
#include <vector>

namespace amptally::io {

/// One thing wrong with a site file or a setting.
struct Problem {
  std::string file;     ///< file name, or `--set PATH=VALUE`
  int line = 0;         ///< from 1; 0: no place in a file
  int column = 0;       ///< from 1, in characters
  std::string field;    ///< dotted path; empty when it is about the file's syntax
  std::string message;  ///< what was given and what would do
};

/// `FILE:LINE:COL: battery.capacity: "7 Ahh": unknown unit "Ahh" (did you mean Ah?)`
[[nodiscard]] std::string to_text(const Problem& problem);

/// Orders problems by their place in the file.
void sort_by_place(std::vector<Problem>& problems);

}  // namespace amptally::io
