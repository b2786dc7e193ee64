#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "site/fields.hpp"
#include "sitefile/json_text.hpp"

/// What is often written into a field and is not what it takes, and what would be.
namespace amptally::io {

/// For a text where an object belongs: the object that may be meant, as `write {"kind": "pwm"}`;
/// empty where none is known.
/// @param pattern  of the field: `battery`, `loads[].runs[]`
[[nodiscard]] std::string object_meant(std::string_view pattern, const Node& node);

/// For a point of the compass where degrees belong: what to write; nothing for another text or
/// field.
[[nodiscard]] std::optional<std::string> azimuth_meant(const Field& field, std::string_view text);

/// For a word of the shops that fits several types of battery: which they are; empty for another
/// word or field.
[[nodiscard]] std::string battery_meant(const Field& field, std::string_view word);

}  // namespace amptally::io
