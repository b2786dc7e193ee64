#include "site/field_path.hpp"

#include <algorithm>
#include <charconv>

namespace amptally::inline v0_1 {

std::optional<PathStep> PathCursor::next() {
  const bool in_brackets = rest_.starts_with('[');
  const bool is_first = rest_.data() == begin_;
  if (!in_brackets && !is_first) {
    if (!rest_.starts_with('.')) return std::nullopt;
    rest_.remove_prefix(1);
  }
  if (in_brackets) rest_.remove_prefix(1);
  const std::size_t end = std::min(rest_.find_first_of(in_brackets ? "]" : ".["), rest_.size());
  if (in_brackets ? end == rest_.size() : end == 0) return std::nullopt;
  const PathStep step{in_brackets, rest_.substr(0, end)};
  rest_.remove_prefix(in_brackets ? end + 1 : end);
  return step;
}

std::optional<FieldPath> FieldPath::parsed(std::string_view text) {
  FieldPath path;
  path.steps_.reserve(6);  // for the longest, `water.lines[].outlets.count`, at once
  PathCursor cursor(text);
  do {
    const std::optional<PathStep> step = cursor.next();
    if (!step) return std::nullopt;
    path.steps_.push_back(*step);
  } while (!cursor.at_end());
  return path;
}

std::string FieldPath::pattern() const {
  std::string out;
  for (const PathStep& step : steps_) {
    if (!step.in_brackets && !out.empty()) out += '.';
    out += step.in_brackets ? "[]" : step.text;
  }
  return out;
}

std::string FieldPath::names() const {
  std::string out;
  for (const PathStep& step : steps_) {
    if (step.in_brackets) continue;
    if (!out.empty()) out += '.';
    out += step.text;
  }
  return out;
}

std::optional<PathIndices> FieldPath::indices() const {
  PathIndices at{};
  std::size_t known = 0;
  for (const PathStep& step : steps_) {
    if (!step.in_brackets) continue;
    if (known == at.size()) return std::nullopt;
    const char* const last = step.text.data() + step.text.size();
    const auto [end, fault] = std::from_chars(step.text.data(), last, at[known]);
    if (fault != std::errc() || end != last) return std::nullopt;
    ++known;
  }
  return at;
}

std::string with_brackets_of(std::string_view path, std::string_view pattern) {
  std::string out;
  PathCursor cursor(path);
  for (const char c : pattern) {
    out += c;
    if (c != '[') continue;
    std::optional<PathStep> step = cursor.next();
    while (step && !step->in_brackets) step = cursor.next();
    if (step) out += step->text;
  }
  return out;
}

}  // namespace amptally::inline v0_1
