#pragma once

#include <cstdint>
#include <functional>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// What the values of options may be, for `Option::take`. A value that cannot be used throws a
/// UsageError that begins with the option's name.
namespace amptally::cli {

using Take = std::function<void(const std::string& value)>;

/// Any text.
[[nodiscard]] Take any_text(std::string& text);
[[nodiscard]] Take any_texts(std::vector<std::string>& texts);

/// The name of a file, not empty.
[[nodiscard]] std::string file_of(const char* option, const std::string& name);
[[nodiscard]] Take file_name(const char* option, std::string& file);

/// A whole number in `low`..`high`.
[[nodiscard]] std::uint64_t whole_of(const char* option, const std::string& text, std::uint64_t low,
                                     std::uint64_t high);

/// A number with a decimal point; none where the text is anything else.
[[nodiscard]] std::optional<double> number_in(std::string_view text);

/// @throws UsageError that `word` is none of `words`
[[noreturn]] void refuse_word(const char* option, const std::string& word,
                              std::span<const std::string_view> words);

/// What one of a few words stands for.
template <typename T>
[[nodiscard]] T choice_of(const char* option, const std::string& word,
                          std::initializer_list<std::pair<std::string_view, T>> choices) {
  std::vector<std::string_view> words;
  for (const auto& [name, value] : choices) {
    if (name == word) return value;
    words.push_back(name);
  }
  refuse_word(option, word, words);
}

}  // namespace amptally::cli
