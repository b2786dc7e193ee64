#include "sitefile/problem.hpp"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>

namespace amptally::io {

std::string to_text(const Problem& problem) {
  std::string out = problem.file;
  if (problem.line > 0) out += fmt::format(":{}:{}", problem.line, problem.column);
  if (!problem.field.empty()) out += ": " + problem.field;
  return out + ": " + problem.message;
}

void sort_by_place(std::vector<Problem>& problems) {
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
}

}  // namespace amptally::io
