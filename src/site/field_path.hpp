#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace amptally::inline v0_1 {

/// A step of a path: into an object by name, or into a list by what stands in brackets.
struct PathStep {
  bool in_brackets = false;
  std::string_view text;  ///< in brackets: a number, a name, or nothing, which stands for any
};

/// Goes through a path step by step.
class PathCursor {
 public:
  explicit PathCursor(std::string_view path) : rest_(path), begin_(path.data()) {}

  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  /// The next step; nothing at the end, and where there is none: no name, a bracket left open.
  std::optional<PathStep> next();

 private:
  std::string_view rest_;
  const char* begin_;
};

/// The numbers in a path's brackets, in order; no field has more than two.
using PathIndices = std::array<std::size_t, 2>;

/// A path to a field of the site file, taken apart: `loads[pump].runs[2].for`. Fields are looked up
/// by their pattern, `loads[].runs[].for`.
class FieldPath {
 public:
  /// Nothing where `text` is no path. It has to live as long as the result.
  [[nodiscard]] static std::optional<FieldPath> parsed(std::string_view text);

  [[nodiscard]] const std::vector<PathStep>& steps() const { return steps_; }
  /// `loads[].runs[].for`
  [[nodiscard]] std::string pattern() const;
  /// Without its brackets: `loads.runs.for`.
  [[nodiscard]] std::string names() const;
  /// 0 and 2 of `loads[0].runs[2].for`; nothing where a bracket holds no number, or there are more
  /// of them than any field has.
  [[nodiscard]] std::optional<PathIndices> indices() const;

 private:
  std::vector<PathStep> steps_;
};

/// A pattern with what `path` has in its brackets, one after the other, as far as they go:
/// `loads[].draw` and `loads[pump].drew` make `loads[pump].draw`.
[[nodiscard]] std::string with_brackets_of(std::string_view path, std::string_view pattern);

}  // namespace amptally::inline v0_1
