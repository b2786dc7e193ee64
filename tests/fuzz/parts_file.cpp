#include <set>
#include <string>

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "sitefile/parts_list_reader.hpp"

namespace amptally::fuzz {
namespace {

template <class Part>
void require_list(const std::vector<Part>& parts) {
  require(!parts.empty(), "there is something to choose from");
  std::set<std::string> names;
  for (const Part& part : parts) {
    require(names.insert(part.name).second, "each name is there once: " + part.name);
    require(part.price >= 0 && part.price < 1e12, "the price of " + part.name + " can be paid");
  }
}

/// A sound site with a part of each kind in it.
void require_fits_a_site(const PartsList& parts) {
  Site site = *io::read_site(kGoodSite, "site.json", {}).site;
  site = with_parts(std::move(site), parts, {});
  require_year(site);
}

}  // namespace

void parts_file(std::string_view text, bool thorough) {
  const io::PartsReadResult result = io::read_parts(text, "parts.json");
  require(result.parts.has_value() == result.problems.empty(), "either parts or problems");
  for (const io::Problem& problem : result.problems) require_message(to_text(problem));
  if (!result.parts) return;
  require_list(result.parts->panels);
  require_list(result.parts->batteries);
  require_list(result.parts->regulators);
  if (thorough) require_fits_a_site(*result.parts);
}

}  // namespace amptally::fuzz
