#include "amptally/site_field.hpp"

#include "amptally/error.hpp"

#include "site/fields.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {
namespace {

double& found(Site& site, std::string_view path) {
  const std::optional<FieldAt> at = field_at(path);
  const bool may_be_rough = at && at->field->number != nullptr && !at->field->exact &&
                            at->field->type != FieldType::integer &&
                            at->is_element == is_by_month(*at->field);
  if (!may_be_rough) {
    throw InputError(on_one_line(path), "is not a numeric field that may be a range");
  }
  double* const value = at->field->number(site, at->indices).real;
  if (value == nullptr) throw InputError(on_one_line(path), "is not given in this site");
  return *value;
}

}  // namespace

double site_field(const Site& site, std::string_view path) {
  // One table serves reading and writing; nothing is written here.
  return found(const_cast<Site&>(site), path);
}

void set_site_field(Site& site, std::string_view path, double value) { found(site, path) = value; }

}  // namespace amptally::inline v0_1
