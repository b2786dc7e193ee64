#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "amptally/balance.hpp"

/// Sites put together by a program that means ill, or makes a mistake: no reader has looked at
/// them.
namespace amptally::testing {

/// A site that has something of everything, and weather to run it in.
struct Case {
  Site site;
  WeatherChoice weather;
};
[[nodiscard]] Case full_case();

/// `full_case` with members changed, one for each pair of bytes: the first says which member, the
/// second what to: no number, infinite, negative, none, huge, a kind that there is not, a list that
/// is empty, a name that nobody has ...
[[nodiscard]] Case changed_case(std::span<const std::uint8_t> bytes);

/// What is wrong with how the library took a case; empty where all is well: either `validate` tells
/// of a problem and `simulate` throws InputError, or there is none and the figures are finite (or
/// the model has no answer, in words of one line).
[[nodiscard]] std::string complaint(const Case& tried);

}  // namespace amptally::testing
