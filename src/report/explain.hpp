#pragma once

#include <span>
#include <string>

#include "io/fields.hpp"
#include "report/look.hpp"

namespace amptally::report {

/// Fields of the site file explained; several are listed, a line each.
[[nodiscard]] std::string explain_report(std::span<const io::Field> fields, const Look& look);

}  // namespace amptally::report
