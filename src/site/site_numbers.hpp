#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>

#include "site/fields.hpp"

namespace amptally::inline v0_1 {

/// A number that a site has, and what the table says of it.
struct SiteNumber {
  const Field* field;
  PathIndices indices;   ///< the numbers in its path's brackets, a month's last
  double value;          ///< in the base unit of the dimension it was said in
  const Limits* limits;  ///< of a site, in that dimension

  /// `loads[0].draw`
  [[nodiscard]] std::string path() const;
};

/// A field that holds numbers, made ready to be walked through: a study asks for every number of
/// each of its variants, so no path is taken apart then.
struct NumberField {
  const Field* field;
  std::array<const Field*, 2> lists;  ///< what its brackets go through, outer first
  std::size_t brackets;
  std::size_t repeats;  ///< twelve where it is by month
};

/// In the table's order. The months of sun, which have two paths, come by the first of them.
[[nodiscard]] std::span<const NumberField> number_fields();

/// Calls `visit(const SiteNumber&)` for every number of the table that the site gives.
/// @param under  only those whose path begins so; the others are not looked at
template <class Visit>
void for_each_number(const Site& site, Visit&& visit, std::string_view under = {}) {
  // One accessor serves reading and writing; nothing is written here.
  Site& open = const_cast<Site&>(site);
  const auto visit_one = [&](const Field& field, const PathIndices& indices) {
    const NumberAt number = field.number(open, indices);
    if (!number.is_given()) return;
    visit(SiteNumber{&field, indices, number.value(), site_limits_of(field, number.said_in)});
  };
  for (const NumberField& row : number_fields()) {
    if (!row.field->path.starts_with(under)) continue;
    PathIndices at{};
    const auto length = [&](std::size_t bracket) {
      return bracket < row.brackets ? row.lists[bracket]->size(site, at) : std::size_t{1};
    };
    for (at[0] = 0; at[0] < length(0); ++at[0]) {
      for (at[1] = 0; at[1] < length(1); ++at[1]) {
        PathIndices indices = at;
        for (std::size_t month = 0; month < row.repeats; ++month) {
          if (row.repeats > 1) indices[row.brackets] = month;
          visit_one(*row.field, indices);
        }
      }
      at[1] = 0;
    }
  }
}

}  // namespace amptally::inline v0_1
