#include "fuzz/variants.hpp"

#include "fuzz/promises.hpp"
#include "sitefile/variant_reader.hpp"

namespace amptally::fuzz {

void require_variants(std::vector<io::Axis> axes, std::optional<io::Draws> draws) {
  const io::Combinations combinations(std::move(axes), draws);
  require(combinations.count() > 0, "there is a combination");
  const std::vector<io::VariedField>& fields = combinations.fields();
  const io::VariantReader reader(kGoodSite, "site.json", {}, fields);
  for (const std::uint64_t number : {std::uint64_t{0}, combinations.count() - 1}) {
    const std::vector<io::VariedValue> values = combinations.at(number);
    reader.check_places(values);
    std::vector<io::Setting> settings;
    for (std::size_t v = 0; v < values.size(); ++v) {
      settings.push_back({.path = fields[v].path, .value = to_text(values[v].node)});
      if (values[v].number) require_finite(*values[v].number, "the value of " + fields[v].path);
    }
    require_same(reader.read(values), io::read_site(kGoodSite, "site.json", settings));
  }
}

}  // namespace amptally::fuzz
