#pragma once

#include <cstddef>
#include <optional>

namespace amptally::inline v0_1 {

template <class T>
inline constexpr bool kIsOptional = false;
template <class T>
inline constexpr bool kIsOptional<std::optional<T>> = true;

/// Stands for any value in a list of initialisers. An optional takes it for the value inside: to
/// convert to the optional itself as well would be ambiguous.
struct AnyValue {
  template <class T>
  requires(!kIsOptional<T>) operator T() const;
};

/// How many members a plain struct has: as many initialisers as it takes. So a table about the
/// members of a struct can be held against it while it is compiled.
template <class Struct, class... Values>
[[nodiscard]] consteval std::size_t member_count() {
  if constexpr (requires { Struct{Values()..., AnyValue()}; }) {
    return member_count<Struct, Values..., AnyValue>();
  } else {
    return sizeof...(Values);
  }
}

}  // namespace amptally::inline v0_1
