#pragma once

#include <string>

namespace amptally::io {

/// JSON Schema (draft-07) of the site file, made from the fields table.
///
/// It knows names, types, choices, what is required, and the range of bare numbers. Units inside
/// text, and what fields say about each other, only the reader checks.
[[nodiscard]] std::string site_schema();

/// The same of a parts list.
[[nodiscard]] std::string parts_schema();

}  // namespace amptally::io
