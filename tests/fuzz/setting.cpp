#include "sitefile/setting.hpp"

#include <algorithm>
#include <vector>

#include "amptally/error.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"

namespace amptally::fuzz {
namespace {

std::vector<io::Setting> settings_of(std::string_view text) {
  std::vector<io::Setting> settings;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    settings.push_back(io::split_setting(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return settings;
}

}  // namespace

void setting(std::string_view text, bool thorough) {
  std::vector<io::Setting> settings;
  try {
    settings = settings_of(text);
  } catch (const InputError& error) {
    return require_message(error.what());
  }
  const io::ReadResult result = io::read_site(kGoodSite, "site.json", settings);
  require_answer(result);
  if (!result.site) return;
  require_in_range(*result.site);
  if (thorough) require_year(*result.site);
}

}  // namespace amptally::fuzz
