#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sitefile/json_text.hpp"

namespace amptally::io {

struct JsonMember;

/// A tree to be written, made of the program's own values: each turns into one.
struct Json : Node {
  Json() = default;  ///< null
  Json(std::nullptr_t) {}
  Json(std::string_view value);
  Json(const std::string& value) : Json(std::string_view(value)) {}
  Json(const char* value) : Json(std::string_view(value)) {}
  /// As told (text/told_number.hpp), with a decimal point or an exponent; null where it is not
  /// finite, as JSON has no infinity.
  Json(double value);
  Json(std::initializer_list<JsonMember> members);

  template <std::integral T>
  Json(T value) {
    if constexpr (std::same_as<T, bool>) {
      kind = Kind::boolean;
      boolean = value;
    } else {
      kind = Kind::number;
      text = std::to_string(value);
    }
  }

  /// Null where there is none.
  template <class T>
  Json(const std::optional<T>& value) : Json(value ? Json(*value) : Json()) {}

  template <class T>
  Json(const std::vector<T>& values) : Json(list()) {
    for (const T& value : values) push(value);
  }

  template <class T, std::size_t N>
  Json(const std::array<T, N>& values) : Json(list()) {
    for (const T& value : values) push(value);
  }

  [[nodiscard]] static Json list();
  [[nodiscard]] static Json object();

  /// Adds a member to an object, the last; its name must be new there.
  void add(std::string_view name, Json value);
  /// Adds an element to a list.
  void push(Json value);
  [[nodiscard]] std::size_t size() const { return children.size(); }
};

struct JsonMember {
  std::string_view key;
  Json value;
};

/// The list of what `make` makes of each value.
template <class Values, class Make>
[[nodiscard]] Json list_of(const Values& values, const Make& make) {
  Json list = Json::list();
  for (const auto& value : values) list.push(make(value));
  return list;
}

}  // namespace amptally::io
