#pragma once

#include "amptally/balance.hpp"

#include "report/html.hpp"

namespace amptally::report {

/// What the panel could give and what is asked for, month by month, with the monthly table.
[[nodiscard]] Html months_figure(const Balance& balance);

}  // namespace amptally::report
