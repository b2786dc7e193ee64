#include "site/site_numbers.hpp"

#include <vector>

namespace amptally::inline v0_1 {
namespace {

NumberField made_ready(const Field& field) {
  NumberField row{&field, {}, 0, is_by_month(field) ? std::size_t{kMonthsPerYear} : 1};
  for (std::size_t open = field.path.find('['); open != field.path.npos;
       open = field.path.find('[', open + 1)) {
    row.lists.at(row.brackets++) = find_field(field.path.substr(0, open));
  }
  return row;
}

std::vector<NumberField> all_made_ready() {
  std::vector<NumberField> rows;
  for (const Field& field : all_fields()) {
    if (field.number != nullptr && field.path != "place.insolation.values") {
      rows.push_back(made_ready(field));
    }
  }
  return rows;
}

}  // namespace

std::string SiteNumber::path() const {
  std::string out;
  std::size_t known = 0;
  for (const char c : field->path) {
    out += c;
    if (c == '[') out += std::to_string(indices[known++]);
  }
  if (is_by_month(*field)) out += '[' + std::to_string(indices[known]) + ']';
  return out;
}

std::span<const NumberField> number_fields() {
  static const std::vector<NumberField> rows = all_made_ready();
  return rows;
}

}  // namespace amptally::inline v0_1
