#pragma once

#include <string>
#include <string_view>

#include "site/fields.hpp"
#include "sitefile/json_text.hpp"

namespace amptally::io {

/// One `--set PATH=VALUE`.
struct Setting {
  std::string path;
  std::string value;
  std::string shown = {};  ///< what messages call it; empty: `--set PATH=VALUE`
};

/// The two halves of `PATH=VALUE`, parted at the first = outside brackets.
///
/// @throws InputError if there is no = or nothing before it, or if it is not UTF-8
[[nodiscard]] Setting split_setting(std::string_view text);

/// The field that a setting's path means.
/// @throws InputError (field: the path), with a likely correction, if the site file has none
[[nodiscard]] const Field& known_field(const std::string& path);

/// What the text of a setting stands for: JSON if it reads as a number, true, false, a list, an
/// object or quoted text, else the text as it stands.
[[nodiscard]] Node setting_value(std::string_view text);

/// Puts a value into the tree of a site file.
///
/// Objects and the element just past a list's end are made where they are missing. A load's
/// schedule replaces the one it had, so that a load never has two.
/// @param root   an object
/// @param path   of a field that the site file has (`known_field`)
/// @param index  what `Node::setting` of the new value will say
/// @throws InputError (field: the path) for what is no path, or a list element that is not there
void put_value(Node& root, const std::string& path, Node value, int index);

/// Puts a setting's value into the tree of a site file.
/// @throws InputError as `known_field` and `put_value`
void apply_setting(Node& root, const Setting& setting, int index);

}  // namespace amptally::io
