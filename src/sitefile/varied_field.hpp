#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "site/fields.hpp"
#include "sitefile/json_text.hpp"
#include "sitefile/problem.hpp"

namespace amptally::io {

/// A field of the site that takes other values from run to run.
struct VariedField {
  std::string path;              ///< as it was given: `loads[pump].draw`
  const Field* field = nullptr;  ///< what it means
  /// Of all its values, where they are quantities: one axis has one unit.
  std::optional<Dimension> dimension = {};
};

/// One value of it.
struct VariedValue {
  Node node;                                ///< as `--set` would put it in
  std::string text;                         ///< as it was given, without JSON's quotes
  std::optional<double> number = {};        ///< of a quantity, in the base unit; a range's middle
  Dimension dimension = Dimension::number;  ///< of the number
};

/// @throws InputError (field: the path), with a likely correction, if the site file has no such
///   field
[[nodiscard]] VariedField varied_field(const std::string& path);

/// The value that `text` stands for in a setting of the field, checked by itself: kind, unit and
/// range. An object or a list of objects is looked at only when a site is read with it.
/// @param shown     what messages call the place it comes from
/// @param problems  out: what is wrong with it is added
[[nodiscard]] VariedValue varied_value(const VariedField& field, std::string_view text,
                                       const std::string& shown, std::vector<Problem>& problems);

/// Makes a value's dimension the field's; its first value decides.
void settle_dimension(VariedField& field, const VariedValue& value, const std::string& shown,
                      std::vector<Problem>& problems);

}  // namespace amptally::io
