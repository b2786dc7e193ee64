#pragma once

#include <span>
#include <string_view>

#include "amptally/error.hpp"

#include "sitefile/object_reader.hpp"

namespace amptally::io {

/// One object of the root: how it is read, and whose reading it looks at.
struct SitePart {
  std::string_view name;
  void (*read)(Reading&, ObjectReader& root);
  void (*clear)(Site&);         ///< as before reading it
  std::string_view looks_at{};  ///< an earlier part; empty: none
};

/// All parts, in the order in which they are read. The first stands for what the root itself holds.
[[nodiscard]] std::span<const SitePart> site_parts();

/// The part that the first step of a field's path leads into.
[[nodiscard]] const SitePart& part_of(std::string_view path);

/// A site without a name is called by its place; last of all, when both are read.
void name_by_place(Site& site);

/// Notes that a setting could not be put in.
void note_setting(Reading& reading, int index, const InputError& error);

}  // namespace amptally::io
