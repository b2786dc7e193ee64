#pragma once

#include <span>
#include <string>
#include <string_view>

namespace amptally::io {

struct OtherWord {
  std::string_view written;  ///< in small letters, parts joined by _
  std::string_view meant;    ///< a field's name or one of its choices
};

/// All that are known; of two with the same word the likelier first.
[[nodiscard]] std::span<const OtherWord> other_words();

/// The one of `candidates` that people mean by `word`, another word for the same: `tilt` by
/// "angle". Empty where none is known. Never taken for it, only offered.
[[nodiscard]] std::string_view other_word(std::string_view word,
                                          std::span<const std::string_view> candidates);

/// What was likely meant by `word`: of `candidates` the one that it is another word for, else the
/// one that it is spelled nearly as; empty where there is neither.
[[nodiscard]] std::string_view likely_word(std::string_view word,
                                           std::span<const std::string_view> candidates);

/// The path of a field that `path` is likely a slip for, with the brackets of `path`; empty when
/// none is near.
[[nodiscard]] std::string near_miss_field(std::string_view path);

}  // namespace amptally::io
