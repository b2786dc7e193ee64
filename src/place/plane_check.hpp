#pragma once

#include "amptally/sun.hpp"

namespace amptally::inline v0_1 {

/// @throws InputError as `require_valid` of a place, for the plane too
void require_valid(const Place& place, const PanelPlane& plane);

}  // namespace amptally::inline v0_1
