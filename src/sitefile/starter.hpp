#pragma once

#include <string>
#include <string_view>

namespace amptally::io {

/// A site file to start from: small, valid as it is, with `notes` that say what to change.
///
/// @param place  a shipped place's name, or "LATITUDE,LONGITUDE" in degrees; empty: an example
/// @throws InputError (field `place`) if it is neither
[[nodiscard]] std::string starter_site(std::string_view place);

}  // namespace amptally::io
