#include "cli/option_values.hpp"

#include <charconv>

#include <fmt/format.h>

#include "cli/option.hpp"
#include "sitefile/hint.hpp"
#include "text/closest_word.hpp"

namespace amptally::cli {
namespace {

/// The number that the text is, to its end.
template <typename T>
std::optional<T> all_of_text(std::string_view text) {
  T value = 0;
  const char* const end_of_text = text.data() + text.size();
  const auto [end, fault] = std::from_chars(text.data(), end_of_text, value);
  if (fault != std::errc() || end != end_of_text) return std::nullopt;
  return value;
}

}  // namespace

Take any_text(std::string& text) {
  return [&text](const std::string& value) { text = value; };
}

Take any_texts(std::vector<std::string>& texts) {
  return [&texts](const std::string& value) { texts.push_back(value); };
}

std::string file_of(const char* option, const std::string& name) {
  if (name.empty()) throw UsageError(fmt::format("{}: the name of the file is empty", option));
  return name;
}

Take file_name(const char* option, std::string& file) {
  return [option, &file](const std::string& value) { file = file_of(option, value); };
}

std::uint64_t whole_of(const char* option, const std::string& text, std::uint64_t low,
                       std::uint64_t high) {
  const auto value = all_of_text<std::uint64_t>(text);
  if (value && *value >= low && *value <= high) return *value;
  throw UsageError(
      fmt::format("{}: \"{}\" is not a whole number in {}..{}", option, text, low, high));
}

std::optional<double> number_in(std::string_view text) { return all_of_text<double>(text); }

void refuse_word(const char* option, const std::string& word,
                 std::span<const std::string_view> words) {
  throw UsageError(fmt::format("{}: \"{}\" is not one of {}{}", option, word,
                               fmt::join(words, ", "), io::hint(near_miss(word, words))));
}

}  // namespace amptally::cli
