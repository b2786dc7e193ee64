#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "site/fields.hpp"

/// The battery types as the site file's table of fields names them.
namespace amptally::inline v0_1 {

/// As the site file spells them, in the order of `battery_types()`.
[[nodiscard]] std::vector<std::string_view> battery_names();

/// The same, each with its kind.
[[nodiscard]] std::vector<Choice> battery_choices();

/// A sentence of their labels; labels that end in the same brackets share them:
/// "Flooded lead-acid, AGM or gel (sealed lead-acid), or lithium iron phosphate."
[[nodiscard]] const std::string& battery_labels_sentence();

}  // namespace amptally::inline v0_1
