#pragma once

#include <span>

#include "site/fields.hpp"

namespace amptally::io {

/// The fields of a parts list: the label fields are the site file's, by other paths.
[[nodiscard]] std::span<const Field> parts_fields();

}  // namespace amptally::io
