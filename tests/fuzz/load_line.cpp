#include "amptally/error.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "sitefile/json_text.hpp"
#include "sitefile/load_text.hpp"

namespace amptally::fuzz {

void load_line(std::string_view text, bool thorough) {
  std::string object;
  try {
    object = io::load_object(text);
  } catch (const InputError& error) {
    return require_message(error.what());
  }
  require(io::parse_json(object).kind == io::Node::Kind::object, "a load is an object");
  const io::Setting setting{.path = "loads[2]", .value = object, .shown = "--load"};
  const io::ReadResult result = io::read_site(kGoodSite, "site.json", {&setting, 1});
  require_answer(result);
  if (!result.site) return;
  require(result.site->loads.size() == 3, "the load is one more");
  require_in_range(*result.site);
  if (thorough) require_year(*result.site);
}

}  // namespace amptally::fuzz
