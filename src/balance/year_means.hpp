#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <type_traits>
#include <variant>

#include "balance/figures.hpp"

/// Means over several years, of all figures whose row says so.
namespace amptally::inline v0_1 {

/// The members that are means over the years. Does not compile where such a figure is a count.
template <const auto& kFigures>
[[nodiscard]] consteval auto mean_members() {
  using Record = typename std::remove_cvref_t<decltype(kFigures)>::value_type::Record;
  constexpr auto is_mean = [](const Figure<Record>& figure) {
    return figure.over_years == OverYears::mean &&
           !std::holds_alternative<double (Record::*)() const>(figure.value);
  };
  constexpr auto count = std::count_if(kFigures.begin(), kFigures.end(), is_mean);
  std::array<double Record::*, static_cast<std::size_t>(count)> members{};
  std::size_t i = 0;
  for (const Figure<Record>& figure : kFigures) {
    if (is_mean(figure)) members[i++] = std::get<double Record::*>(figure.value);
  }
  return members;
}

template <class Record>
inline constexpr auto kMeans = nullptr;
template <>
inline constexpr auto kMeans<DayBalance> = mean_members<kDayFigures>();
template <>
inline constexpr auto kMeans<MonthBalance> = mean_members<kMonthFigures>();
template <>
inline constexpr auto kMeans<YearBalance> = mean_members<kYearFigures>();

// A mean is the sum divided once. A sum of quotients rounds at each: forty years that are each
// served in full came to a share above 1, and days allowed were missed by the last digit.

/// What to add years to: sums of 0, and from `any` of the years what is the same in all.
template <class Record>
[[nodiscard]] Record sum_start(Record any) {
  for (const auto member : kMeans<Record>) any.*member = 0;
  return any;
}

template <class Record>
void add_to_sum(Record& sum, const Record& year) {
  for (const auto member : kMeans<Record>) sum.*member += year.*member;
}

/// @param n  how many years were added
template <class Record>
[[nodiscard]] Record mean_of_sum(Record sum, double n) {
  for (const auto member : kMeans<Record>) sum.*member /= n;
  return sum;
}

}  // namespace amptally::inline v0_1
