#include "site/fields.hpp"

#include <limits>
#include <set>
#include <string_view>

#include "catch.hpp"

using namespace amptally;

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
}

TEST_CASE("a path that is none leads to no field", "[fields]") {
  for (const char* path : {"loads[", "loads[0", "loads[0]draw", "battery..capacity", "battery.",
                           ".battery", "[0]", "loads]0["}) {
    CAPTURE(path);
    CHECK(field_meant_by(path) == nullptr);
    CHECK_FALSE(field_at(path).has_value());
  }
}

TEST_CASE("a field of a site is found by the numbers in its brackets alone", "[fields]") {
  const auto run = field_at("loads[4].runs[2].for");
  REQUIRE(run.has_value());
  CHECK(run->field->path == "loads[].runs[].for");
  CHECK(run->indices == PathIndices{4, 2});
  CHECK_FALSE(run->is_element);
  const auto rain = field_at("place.rain[11]");
  REQUIRE(rain.has_value());
  CHECK(rain->field->path == "place.rain");
  CHECK(rain->indices[0] == 11);
  CHECK(rain->is_element);
  for (const char* path : {"loads[pump].draw", "loads[].draw", "loads.draw", "loads[-1].draw"}) {
    CAPTURE(path);
    CHECK_FALSE(field_at(path).has_value());
  }
}

TEST_CASE("every number of the site file says where a site has it, every list how long it is",
          "[fields]") {
  for (const Field& field : all_fields()) {
    CAPTURE(field.path);
    const bool is_number = field.type == FieldType::quantity || field.type == FieldType::integer ||
                           field.type == FieldType::demand || is_by_month(field);
    CHECK((field.number != nullptr) == is_number);
    CHECK((field.size != nullptr) == (field.type == FieldType::list));
  }
}

TEST_CASE("limits let their ends in, unless the low one is told to be above", "[fields]") {
  const Limits closed{Dimension::share, 0, 1};
  const Limits above{Dimension::share, 0, 1, true};
  CHECK(closed.allow(0));
  CHECK_FALSE(above.allow(0));
  CHECK(above.allow(1e-300));
  for (const Limits& limits : {closed, above}) {
    CHECK(limits.allow(1));
    CHECK_FALSE(limits.allow(1.0000001));
    CHECK_FALSE(limits.allow(-1));
    CHECK_FALSE(limits.allow(std::numeric_limits<double>::quiet_NaN()));
  }
}
