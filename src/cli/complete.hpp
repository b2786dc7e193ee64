#pragma once

#include <span>
#include <string>

namespace amptally::cli {

/// What may come next on a command line, for the scripts in completions/: a line each, the word, a
/// tab, and what it means. A line "FILE" says that names of files fit too; the shell knows those.
/// @param words  after the program's name; the last is unfinished
[[nodiscard]] std::string completions(std::span<const std::string> words);

}  // namespace amptally::cli
