#pragma once

#include "amptally/balance.hpp"

#include "report/html.hpp"

namespace amptally::report {

/// The charge left in the battery over the year, with the floor, and its figures month by month.
[[nodiscard]] Html charge_figure(const Balance& balance);

}  // namespace amptally::report
