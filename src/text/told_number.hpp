#pragma once

#include <string>

namespace amptally::inline v0_1 {

/// A figure as it is written for programs: nine significant digits. Chosen: no figure of the model
/// means more, and the roundings of a sum, which show from the fifteenth digit on, stay hidden.
/// @return the double nearest to that decimal number; what is not finite as it is
[[nodiscard]] double as_told(double value);

/// The shortest text of `as_told(value)`.
[[nodiscard]] std::string told_number(double value);

}  // namespace amptally::inline v0_1
