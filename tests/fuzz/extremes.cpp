#include <array>

#include <fmt/format.h>

#include "amptally/quantity.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "site/fields.hpp"

namespace amptally::fuzz {
namespace {

struct Ends {
  std::string path;
  std::array<std::string, 4> values;  ///< lowest, highest, hardly more than the lowest, between
};

std::string first_elements(std::string path) {
  for (std::size_t at = path.find("[]"); at != path.npos; at = path.find("[]")) {
    path.replace(at, 2, "[0]");
  }
  return path;
}

/// Of every field that is a number.
const std::vector<Ends>& all_ends() {
  static const std::vector<Ends> all = [] {
    std::vector<Ends> made;
    for (const Field& field : all_fields()) {
      const bool is_number = field.type == FieldType::quantity || field.type == FieldType::integer;
      if (!is_number) continue;
      for (const Limits& limits : field.limits) {
        const bool is_share = limits.dimension == Dimension::share;
        const std::string unit(is_share ? "" : base_unit(limits.dimension));
        const auto text = [&](double value) {
          return unit.empty() ? fmt::format("{}", value) : fmt::format("{} {}", value, unit);
        };
        const double between = 0.5 * (limits.low + limits.high);
        made.push_back({first_elements(std::string(field.path)),
                        {text(limits.low), text(limits.high), text(limits.low + 1e-9),
                         field.type == FieldType::integer ? text(2) : text(between)}});
      }
    }
    return made;
  }();
  return all;
}

}  // namespace

void extremes(std::string_view text, bool /*thorough*/) {
  const std::vector<Ends>& ends = all_ends();
  std::vector<io::Setting> settings;
  // A byte says which field, the next which value.
  for (std::size_t at = 0; at + 1 < text.size(); at += 2) {
    const Ends& field = ends[static_cast<unsigned char>(text[at]) % ends.size()];
    settings.push_back(
        {.path = field.path, .value = field.values[static_cast<unsigned char>(text[at + 1]) % 4]});
  }
  const io::ReadResult result = io::read_site(kGoodSite, "site.json", settings);
  require_answer(result);
  if (!result.site) return;
  require_in_range(*result.site);
  require_year(*result.site);
}

}  // namespace amptally::fuzz
