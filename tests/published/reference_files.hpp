#pragma once

#include <cstdlib>
#include <fstream>
#include <string>

namespace amptally::published {

/// A file of published figures that may be read but not carried in the repository. The folder is
/// AMPTALLY_REFERENCE, or `shared/reference` beside the checkout; where it is missing the stream is
/// not open and the check has nothing to do.
inline std::ifstream reference_file(const std::string& name) {
  const char* set = std::getenv("AMPTALLY_REFERENCE");
  const std::string folder = set ? set : AMPTALLY_SOURCE_DIR "/../shared/reference";
  return std::ifstream(folder + "/" + name);
}

}  // namespace amptally::published
