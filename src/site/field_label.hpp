#pragma once

#include <string>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// What a person calls the field at `path`: "draw of misting pump" for `loads[0].draw`, "height of
/// shade 2" for `panel.shade[1].elevation`. A path without a name of its own comes back as it is.
[[nodiscard]] std::string field_label(const Site& site, const std::string& path);

}  // namespace amptally::inline v0_1
