#pragma once

#include <cstdlib>
#include <fstream>
#include <optional>
#include <stdexcept>
#include <string>

#include "skipped.hpp"

namespace amptally::published {

/// A file of published figures that may be read but not carried in the repository, from the folder
/// that the environment calls AMPTALLY_REFERENCE; nothing where it names none, which is said.
/// @throws std::runtime_error if the folder named has no such file
inline std::optional<std::ifstream> reference_file(const std::string& name) {
  const char* const folder = std::getenv("AMPTALLY_REFERENCE");
  if (folder == nullptr) {
    testing::skipped("AMPTALLY_REFERENCE names no folder that may have " + name);
    return std::nullopt;
  }
  std::ifstream file(std::string(folder) + "/" + name);
  if (!file) throw std::runtime_error("AMPTALLY_REFERENCE has no " + name);
  return file;
}

}  // namespace amptally::published
