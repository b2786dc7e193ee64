#include "sitefile/hint.hpp"

#include <fmt/format.h>

namespace amptally::io {

std::string hint(std::string_view likely, std::string_view otherwise) {
  if (!likely.empty()) return fmt::format(" (did you mean {}?)", likely);
  return otherwise.empty() ? "" : fmt::format(" ({})", otherwise);
}

}  // namespace amptally::io
