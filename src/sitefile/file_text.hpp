#pragma once

#include <cstddef>
#include <iosfwd>
#include <string>

namespace amptally::io {

/// Largest input file read. Chosen: a site file is a few kB; this stops a slip of the finger on a
/// disk image.
inline constexpr std::size_t kMaxFileBytes = std::size_t{4} << 20U;

/// The whole text of the file at `path`, or of `in` when `path` is "-".
///
/// @throws DataError if it is missing, a folder, unreadable or larger than `limit_bytes`
[[nodiscard]] std::string read_file(const std::string& path, std::istream& in,
                                    std::size_t limit_bytes = kMaxFileBytes);

/// What messages call the input at `path`: "standard input" for "-".
[[nodiscard]] std::string shown_name(const std::string& path);

}  // namespace amptally::io
