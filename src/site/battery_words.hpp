#pragma once

#include <string>
#include <string_view>
#include <vector>

/// The battery types as the site file's table of fields names them.
namespace amptally {

/// As the site file spells them, in the order of `battery_types()`: the choice at place i is
/// `BatteryKind` i.
[[nodiscard]] std::vector<std::string_view> battery_names();

/// A sentence of their labels; labels that end in the same brackets share them:
/// "Flooded lead-acid, AGM or gel (sealed lead-acid), or lithium iron phosphate."
[[nodiscard]] const std::string& battery_labels_sentence();

}  // namespace amptally
