#pragma once

#include <string_view>

#include "amptally/site.hpp"

/// The numbers of a checked site by their dotted paths, which are what `RoughInput::field` names.
namespace amptally::inline v0_1 {

/// The number a site has at `path`, e.g. `battery.capacity`, `loads[0].draw`,
/// `panel.shade[0].elevation`, `place.insolation[11]`. In the field's base unit, as in
/// `RoughInput`: shares are 0..1; a draw or a threshold is in the unit it was said in.
///
/// @throws InputError if `path` is not a numeric field that may be rough, or the site does not give
///   it
[[nodiscard]] double site_field(const Site& site, std::string_view path);

/// Writes one number of a site and nothing else: panel currents do not follow the panel's power
/// (`with_panel_power` does that).
/// @param value  in the field's base unit; its range is not looked at
/// @throws as `site_field`
void set_site_field(Site& site, std::string_view path, double value);

}  // namespace amptally::inline v0_1
