#pragma once

#include <cstdlib>
#include <fstream>
#include <string>

namespace amptally::published {

/// A file of published figures that may be read but not carried in the repository, from the folder
/// that the environment calls AMPTALLY_REFERENCE. Without it the stream is not open and the check
/// has nothing to do.
inline std::ifstream reference_file(const std::string& name) {
  const char* const folder = std::getenv("AMPTALLY_REFERENCE");
  return folder != nullptr ? std::ifstream(std::string(folder) + "/" + name) : std::ifstream();
}

}  // namespace amptally::published
