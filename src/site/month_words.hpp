#pragma once

#include <string>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// Months as one says them, a run of three and more by its ends, also over the turn of the year:
/// "December", "January and May", "November to March and July"; "all months".
[[nodiscard]] std::string month_words(const MonthSet& months);

}  // namespace amptally::inline v0_1
