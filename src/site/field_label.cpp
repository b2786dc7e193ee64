#include "site/field_label.hpp"

#include <fmt/format.h>

#include "site/fields.hpp"

namespace amptally::inline v0_1 {
namespace {

/// What the element in the path's first brackets is called; empty where the site has none such.
std::string owner(const Site& site, const FieldAt& at) {
  const std::string_view pattern = at.field->path;
  const Field& list = *find_field(pattern.substr(0, pattern.find('[')));
  const std::size_t element = at.indices[0];
  if (list.element_name != nullptr) return list.element_name(site, element);
  return element < kMonthNames.size() ? std::string(kMonthNames[element]) : std::string();
}

}  // namespace

std::string field_label(const Site& site, const std::string& path) {
  const std::optional<FieldAt> at = field_at(path);
  if (!at) return path;
  const std::string_view label = at->is_element ? at->field->element_label : at->field->label;
  const bool is_owned = path.find('[') != path.npos;
  const std::string whose = is_owned ? owner(site, *at) : "";
  if (label.empty() || (is_owned && whose.empty())) return path;
  return fmt::format(fmt::runtime(label), whose, at->indices[1] + 1);
}

}  // namespace amptally::inline v0_1
