#pragma once

#include <string>
#include <vector>

#include "site/fields.hpp"

namespace amptally {

/// A number that a site has, and what the table says of it.
struct SiteNumber {
  const Field* field;
  PathIndices indices;   ///< the numbers in its path's brackets, a month's last
  double value;          ///< in the base unit of the dimension it was said in
  const Limits* limits;  ///< in that dimension

  /// `loads[0].draw`
  [[nodiscard]] std::string path() const;
};

/// Every number of the table that the site gives, in the table's order. The months of sun, which
/// have two paths, come by the first of them.
[[nodiscard]] std::vector<SiteNumber> site_numbers(const Site& site);

}  // namespace amptally
