#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/site.hpp"

#include "sitefile/problem.hpp"
#include "sitefile/setting.hpp"

namespace amptally::io {

/// A checked site, or what keeps the text from being one.
struct ReadResult {
  std::optional<Site> site;       ///< set when there are no problems
  std::vector<Problem> problems;  ///< all of them; by line, those of settings first
};

/// Reads and checks a site file.
///
/// Rough values go into the site by their middle, with their ends in `Site::rough`; what was not
/// given and matters is said in `Site::assumptions`.
/// @param text       of the file
/// @param file_name  what problems call it
/// @param settings   put in, in order, before anything is checked
[[nodiscard]] ReadResult read_site(std::string_view text, const std::string& file_name,
                                   std::span<const Setting> settings);

}  // namespace amptally::io
