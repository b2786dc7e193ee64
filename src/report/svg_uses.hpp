#pragma once

#include "amptally/balance.hpp"

#include "report/html.hpp"

namespace amptally::report {

/// Who asks for charge, the largest first, with the table; nothing where nothing is used.
[[nodiscard]] Html uses_figure(const Balance& balance);

}  // namespace amptally::report
