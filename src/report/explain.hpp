#pragma once

#include <span>
#include <string>

#include "report/output_style.hpp"
#include "site/fields.hpp"

namespace amptally::report {

/// Fields of the site file explained: one at length, an object with a line for each of its members,
/// the whole file as a list.
[[nodiscard]] std::string explain_report(std::span<const Field> fields, const OutputStyle& style);

}  // namespace amptally::report
