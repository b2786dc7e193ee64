#include "report/field_name.hpp"

#include <fstream>
#include <iterator>
#include <string>

#include "catch.hpp"
#include "sitefile/fields.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;
using amptally::report::field_name;

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

TEST_CASE("a field has the name that a person would give it", "[report]") {
  const Site site = site_of("tests/data/every_range.json");
  CHECK(field_name(site, "loads[0].draw") == "draw of pump");
  CHECK(field_name(site, "loads[0].runs[1].for") == "length of run 2 of pump");
  CHECK(field_name(site, "panel.shade[1].elevation") == "height of shade 2");
  CHECK(field_name(site, "place.rain[11]") == "rain in December");
  CHECK(field_name(site, "water.lines[1].demand.area") == "area watered by bed");
}

TEST_CASE("a path without a name of its own comes back as it is", "[report]") {
  const Site site = site_of("tests/data/every_range.json");
  for (const char* path : {"battery.colour", "loads[9].draw", "loads[x].draw", "loads[", ""}) {
    CHECK(field_name(site, path) == path);
  }
}

TEST_CASE("every field that may be rough has a plain name", "[report][fields]") {
  const Site site = site_of("tests/data/every_range.json");
  REQUIRE(site.rough.size() > 80);
  for (const RoughInput& input : site.rough) {
    CAPTURE(input.field);
    CHECK(is_plain(field_name(site, input.field)));
  }
  for (const io::Field& field : io::all_fields()) {
    if (field.type != io::FieldType::quantity || field.exact) continue;
    CAPTURE(field.path);
    CHECK(is_plain(field_name(site, of_the_first(std::string(field.path)))));
  }
}
