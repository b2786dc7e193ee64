#pragma once

#include <string>

#include "report/html.hpp"

/// The parts of a site, each drawn around 0, 0 in pixels.
namespace amptally::report {

/// A line along a path, by the style of its class.
[[nodiscard]] Html wire(const std::string& css_class, const std::string& path);

[[nodiscard]] Html sun_icon();
/// From the side, at its own tilt, towards the sun.
[[nodiscard]] Html panel_icon(double tilt_deg);
[[nodiscard]] Html regulator_icon();
/// Filled above its floor with what may be used, below with what should stay.
/// @param floor_share  deepest discharge allowed, 0..1
[[nodiscard]] Html battery_icon(double floor_share);
[[nodiscard]] Html load_icon();
[[nodiscard]] Html tank_icon(bool has_roof);
/// A tube with drops, and a seedling at its end.
[[nodiscard]] Html line_icon();

}  // namespace amptally::report
