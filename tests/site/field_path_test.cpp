#include "site/field_path.hpp"

#include <string>

#include "catch.hpp"

using namespace amptally;

TEST_CASE("a path is taken apart into names and what stands in brackets", "[fields]") {
  const auto path = FieldPath::parsed("loads[a.b=c].runs[2].for");
  REQUIRE(path.has_value());
  CHECK(path->pattern() == "loads[].runs[].for");
  CHECK(path->names() == "loads.runs.for");
  REQUIRE(path->steps().size() == 5);
  CHECK(path->steps()[1].in_brackets);
  CHECK(path->steps()[1].text == "a.b=c");
  CHECK_FALSE(path->steps()[4].in_brackets);
  CHECK(path->steps()[4].text == "for");
}

TEST_CASE("a path ends in a name or in closed brackets, and begins with a step", "[fields]") {
  for (const char* text : {"", ".", "a.", ".a", "a..b", "a.[0]", "a[", "a[0", "a[0]b", "a[0]]"}) {
    CAPTURE(text);
    CHECK_FALSE(FieldPath::parsed(text).has_value());
  }
  for (const char* text : {"a", "a.b", "a[]", "a[0]", "a[0].b", "a[0][1]", "a]"}) {
    CAPTURE(text);
    CHECK(FieldPath::parsed(text).has_value());
  }
}

TEST_CASE("indices are plain numbers, two at most", "[fields]") {
  CHECK(FieldPath::parsed("a[7].b[12]")->indices() == PathIndices{7, 12});
  CHECK(FieldPath::parsed("a.b")->indices() == PathIndices{});
  for (const char* text :
       {"a[]", "a[x]", "a[1x]", "a[-1]", "a[ 1]", "a[1][2][3]", "a[99999999999999999999]"}) {
    CAPTURE(text);
    CHECK_FALSE(FieldPath::parsed(text)->indices().has_value());
  }
}

TEST_CASE("a pattern takes over what is in a path's brackets", "[fields]") {
  CHECK(with_brackets_of("loads[pump].drew", "loads[].draw") == "loads[pump].draw");
  CHECK(with_brackets_of("loads[0].runs[2]", "loads[].runs[].for") == "loads[0].runs[2].for");
  CHECK(with_brackets_of("loads[0]", "loads[].runs[].for") == "loads[0].runs[].for");
  CHECK(with_brackets_of("loads[0", "loads[].draw") == "loads[].draw");
  CHECK(with_brackets_of("loads]0[", "loads[].draw") == "loads[].draw");
  CHECK(with_brackets_of("", "battery.capacity") == "battery.capacity");
}
