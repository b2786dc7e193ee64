#include "site/field_label.hpp"

#include <fstream>
#include <iterator>
#include <string>

#include "catch.hpp"
#include "site/fields.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;

namespace {

Site site_of(const std::string& name) {
  std::ifstream in(AMPTALLY_SOURCE_DIR "/" + name);
  const std::string text(std::istreambuf_iterator<char>(in), {});
  return io::read_site(text, name, {}).site.value();
}

/// `loads[].draw` as that of the first load.
std::string of_the_first(std::string path) {
  for (std::size_t at = path.find("[]"); at != std::string::npos; at = path.find("[]")) {
    path.replace(at, 2, "[0]");
  }
  return path;
}

bool is_plain(const std::string& name) { return name.find_first_of("._[]{}") == std::string::npos; }

}  // namespace

TEST_CASE("a field has the name that a person would give it", "[fields]") {
  const Site site = site_of("tests/data/every_range.json");
  CHECK(field_label(site, "loads[0].draw") == "draw of pump");
  CHECK(field_label(site, "loads[0].runs[1].for") == "length of run 2 of pump");
  CHECK(field_label(site, "panel.shade[1].elevation") == "height of shade 2");
  CHECK(field_label(site, "place.rain[11]") == "rain in December");
  CHECK(field_label(site, "water.lines[1].demand.area") == "area watered by bed");
}

TEST_CASE("a path without a name of its own comes back as it is", "[fields]") {
  const Site site = site_of("tests/data/every_range.json");
  for (const char* path : {"battery.colour", "loads[9].draw", "loads[x].draw", "loads[", ""}) {
    CHECK(field_label(site, path) == path);
  }
}

TEST_CASE("every field that may be rough has a plain name", "[fields][fields]") {
  const Site site = site_of("tests/data/every_range.json");
  REQUIRE(site.rough.size() > 80);
  for (const RoughInput& input : site.rough) {
    CAPTURE(input.field);
    CHECK(is_plain(field_label(site, input.field)));
  }
  for (const Field& field : all_fields()) {
    if (field.type != FieldType::quantity || field.exact) continue;
    CAPTURE(field.path);
    CHECK(is_plain(field_label(site, of_the_first(std::string(field.path)))));
  }
}
