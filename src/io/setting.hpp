#pragma once

#include <string>
#include <string_view>

#include "io/json_text.hpp"

namespace amptally::io {

/// One `--set PATH=VALUE`.
struct Setting {
  std::string path;
  std::string value;
  std::string shown = {};  ///< what messages call it; empty: `--set PATH=VALUE`
};

/// The two halves of `PATH=VALUE`, parted at the first = outside brackets.
///
/// @throws InputError if there is no = or nothing before it
[[nodiscard]] Setting split_setting(std::string_view text);

/// Puts a setting's value into the tree of a site file.
///
/// The value is JSON if it reads as a number, true, false, a list, an object or quoted text, else
/// it is text as it stands. Objects and the element just past a list's end are made where they are
/// missing. A load's schedule replaces the one it had, so that a load never has two.
/// @param root   an object
/// @param index  what `Node::setting` of the new value will say
/// @throws InputError (field: the path) for a path the site file does not have, or a list element
///   that is not there
void apply_setting(Node& root, const Setting& setting, int index);

}  // namespace amptally::io
