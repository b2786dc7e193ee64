#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

/// HTML that is also well-formed XML, so that any parser can check it.
namespace amptally::report {

/// Markup that is ready to be written. Plain text becomes markup only through `html_text`, which
/// escapes it: the type keeps the two apart.
struct Html {
  std::string markup = {};

  Html& operator+=(const Html& more) {
    markup += more.markup;
    return *this;
  }
  friend Html operator+(Html first, const Html& second) { return first += second; }
};

/// `text` escaped. Line breaks and tabs stay; what neither XML nor UTF-8 allows becomes U+FFFD.
[[nodiscard]] Html html_text(std::string_view text);

struct Attribute {
  std::string_view name;
  std::string value;  ///< plain: it is escaped
};

/// `<tag ...>inside</tag>`
[[nodiscard]] Html element(std::string_view tag, std::initializer_list<Attribute> attributes,
                           const Html& inside);
[[nodiscard]] Html element(std::string_view tag, const Html& inside);
/// `<tag ... />`: one that never holds anything.
[[nodiscard]] Html lone(std::string_view tag, std::initializer_list<Attribute> attributes);

}  // namespace amptally::report
