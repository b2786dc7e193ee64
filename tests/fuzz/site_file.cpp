#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"

namespace amptally::fuzz {

void site_file(std::string_view text, bool thorough) {
  const io::ReadResult result = io::read_site(text, "site.json", {});
  require_answer(result);
  if (!result.site) return;
  require_in_range(*result.site);
  if (thorough) require_year(*result.site);
}

}  // namespace amptally::fuzz
