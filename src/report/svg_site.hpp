#pragma once

#include "report/budget.hpp"
#include "report/html.hpp"
#include "report/water.hpp"

namespace amptally::report {

/// The site as a drawing of its parts, from the sun down to the plants, with the figures that
/// matter beside each.
/// @param water  null where the site has none
[[nodiscard]] Html site_drawing(const Budget& budget, const WaterAnswer* water);

}  // namespace amptally::report
