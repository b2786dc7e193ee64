#include "sitefile/fields.hpp"

#include <fstream>
#include <functional>
#include <set>
#include <string>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "sitefile/json_text.hpp"
#include "sitefile/schema.hpp"
#include "sitefile/site_reader.hpp"
#include "sitefile/starter.hpp"

using namespace amptally;
using namespace amptally::io;
using Catch::Matchers::Contains;

namespace {

std::string file_text(const std::string& name) {
  std::ifstream in(AMPTALLY_SOURCE_DIR "/" + name);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Patterns of all names in a site file's tree.
void collect(const Node& node, const std::string& pattern, std::set<std::string>& out) {
  if (node.kind == Node::Kind::list) {
    for (const Node& child : node.children) collect(child, pattern + "[]", out);
  }
  if (node.kind != Node::Kind::object) return;
  for (const Node& child : node.children) {
    const std::string path = pattern.empty() ? child.key : pattern + "." + child.key;
    out.insert(path);
    if (child.key != "notes") collect(child, path, out);
  }
}

}  // namespace

TEST_CASE("the tables in docs/site-file.md and parts-file.md are those the program has",
          "[fields][docs]") {
  const std::string begin = "<!-- fields: made from the program's own table; a test compares -->\n";
  for (const auto& [file, table] :
       {std::pair{"docs/site-file.md", markdown_table()},
        std::pair{"docs/parts-file.md", markdown_table(parts_fields())}}) {
    CAPTURE(file);
    const std::string text = file_text(file);
    const std::size_t from = text.find(begin);
    REQUIRE(from != std::string::npos);
    const std::size_t to = text.find("<!-- end of fields -->");
    REQUIRE(to != std::string::npos);
    CHECK(text.substr(from + begin.size(), to - from - begin.size()) == table);
  }
}

TEST_CASE("every field is complete and its path unique", "[fields]") {
  std::set<std::string_view> seen;
  for (const Field& field : all_fields()) {
    CAPTURE(field.path);
    CHECK(seen.insert(field.path).second);
    CHECK(field.meaning.ends_with('.'));
    CHECK_FALSE(expected_text(field).empty());
    CHECK_FALSE((field.required && !field.fallback.empty()));
    const bool number = field.type == FieldType::quantity || field.type == FieldType::integer ||
                        field.type == FieldType::monthly;
    CHECK((!number || !field.limits.empty()));
    CHECK((field.type == FieldType::choice) == !field.choices.empty());
    for (const Limits& limits : field.limits) CHECK(limits.low < limits.high);
    const std::size_t dot = field.path.rfind('.');
    if (dot == field.path.npos) continue;
    std::string_view parent = field.path.substr(0, dot);
    if (parent.ends_with("[]")) parent.remove_suffix(2);
    CHECK(find_field(parent) != nullptr);
  }
}

TEST_CASE("the test file with every field leaves none out", "[fields]") {
  std::set<std::string> used;
  collect(parse_json(file_text("tests/data/every_field.json")), "", used);
  for (const Field& field : all_fields()) {
    CAPTURE(field.path);
    CHECK(used.count(std::string(field.path)) == 1);
  }
}

TEST_CASE("a field is found by the paths people write", "[fields]") {
  CHECK(field_meant_by("battery.capacity")->path == "battery.capacity");
  CHECK(field_meant_by("loads[pump].draw")->path == "loads[].draw");
  CHECK(field_meant_by("loads[0].runs[2].for")->path == "loads[].runs[].for");
  CHECK(field_meant_by("loads.draw")->path == "loads[].draw");
  CHECK(field_meant_by("place.insolation[11]")->path == "place.insolation");
  CHECK(field_meant_by("panel.shade[0].notes")->path == "notes");
  CHECK(field_meant_by("battery.capcity") == nullptr);
  CHECK(field_meant_by("battery.capacity.notes") == nullptr);
  CHECK(field_meant_by("") == nullptr);
  CHECK(near_miss_field("battery.capcity") == "battery.capacity");
  CHECK(near_miss_field("load[pump].draw") == "loads[pump].draw");
  CHECK(near_miss_field("capacity") == "battery.capacity");
  CHECK(near_miss_field("capasity") == "battery.capacity");
  CHECK(near_miss_field("colour").empty());
  // In other words, and never from another object or nearly nothing.
  CHECK(near_miss_field("battery.size") == "battery.capacity");
  CHECK(near_miss_field("loads[pump].current") == "loads[pump].draw");
  CHECK(near_miss_field("watts") == "panel.power");
  CHECK(near_miss_field("location") == "place");
  CHECK(near_miss_field("battery.sizx").empty());
  CHECK(near_miss_field("battery.tilt").empty());
}

TEST_CASE("a pattern takes over what is in a path's brackets", "[fields]") {
  CHECK(with_brackets_of("loads[pump].drew", "loads[].draw") == "loads[pump].draw");
  CHECK(with_brackets_of("loads[0].runs[2]", "loads[].runs[].for") == "loads[0].runs[2].for");
  CHECK(with_brackets_of("loads[0]", "loads[].runs[].for") == "loads[0].runs[].for");
  CHECK(with_brackets_of("loads[0", "loads[].draw") == "loads[].draw");
  CHECK(with_brackets_of("loads]0[", "loads[].draw") == "loads[].draw");
  CHECK(with_brackets_of("", "battery.capacity") == "battery.capacity");
}

TEST_CASE("the schema names every field where the table has it", "[fields][schema]") {
  const Node schema = parse_json(site_schema());
  for (const Field& field : all_fields()) {
    CAPTURE(field.path);
    const Node* at = &schema;
    std::string rest(field.path);
    while (at != nullptr && !rest.empty()) {
      const std::size_t dot = std::min(rest.find('.'), rest.size());
      std::string name = rest.substr(0, dot);
      rest.erase(0, std::min(dot + 1, rest.size()));
      const bool list = name.ends_with("[]");
      if (list) name.resize(name.size() - 2);
      if (const Node* any = at->member("anyOf");
          any != nullptr && at->member("properties") == nullptr) {
        at = &any->children.back();  // the object among the ways to write it
      }
      at = at->member("properties");
      if (at != nullptr) at = at->member(name);
      if (at != nullptr && list) at = at->member("items");
    }
    REQUIRE(at != nullptr);
    CHECK(at->member("description") != nullptr);
  }
}

TEST_CASE("the schema closes every object", "[fields][schema]") {
  int objects = 0;
  const std::function<void(const Node&)> visit = [&](const Node& node) {
    const Node* properties = node.kind == Node::Kind::object ? node.member("properties") : nullptr;
    if (properties != nullptr && properties->kind == Node::Kind::object &&
        node.member("type") != nullptr) {
      ++objects;
      REQUIRE(node.member("additionalProperties") != nullptr);
      CHECK_FALSE(node.member("additionalProperties")->boolean);
      CHECK(properties->member("notes") != nullptr);
    }
    for (const Node& child : node.children) visit(child);
  };
  visit(parse_json(site_schema()));
  // The root, place, insolation, panel, shade, regulator, battery, load, run, cable, water, tank,
  // line, pump, tube, outlets, demand, aim.
  CHECK(objects == 18);
}

TEST_CASE("the starter file is a good site as printed", "[starter]") {
  for (const std::string_view place : {"", "Hobart", "hobart", "43.38,-5.87", "-21.4, 16.9"}) {
    CAPTURE(place);
    const ReadResult result = read_site(starter_site(place), "starter.json", {});
    for (const Problem& problem : result.problems) UNSCOPED_INFO(to_text(problem));
    REQUIRE(result.site.has_value());
    CHECK(result.site->loads.size() == 3);
  }
  const ReadResult south = read_site(starter_site("-21.4, 16.9"), "starter.json", {});
  CHECK(south.site->place.latitude_deg == -21.4);
  CHECK(south.site->place.longitude_deg == 16.9);
}

TEST_CASE("the starter file refuses a place that is none", "[starter][errors]") {
  CHECK_THROWS_WITH(starter_site("Hobrat"), Contains("did you mean Hobart?"));
  CHECK_THROWS_AS(starter_site("95,0"), InputError);
  CHECK_THROWS_AS(starter_site("43.38"), InputError);
  CHECK_THROWS_AS(starter_site("43.38,west"), InputError);
}
