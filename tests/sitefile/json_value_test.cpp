#include "sitefile/json_value.hpp"

#include <array>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "catch.hpp"
#include "text/told_number.hpp"

using namespace amptally::io;

namespace {

Json sample() {
  Json json = {{"whole", 5},
               {"number", 5.0},
               {"yes", true},
               {"text", "a \"b\"\n"},
               {"list", std::vector<double>{1.5, 2}},
               {"object", {{"inner", std::optional<int>()}}}};
  json.add("none", Json::list());
  json.add("empty", Json::object());
  return json;
}

}  // namespace

TEST_CASE("a tree is written on one line, stacked, or stacked with short lists", "[json]") {
  CHECK(json_text(sample(), JsonLayout::one_line) ==
        R"({"whole":5,"number":5.0,"yes":true,"text":"a \"b\"\n","list":[1.5,2.0],)"
        R"("object":{"inner":null},"none":[],"empty":{}})");
  const std::string head =
      "{\n  \"whole\": 5,\n  \"number\": 5.0,\n  \"yes\": true,\n  \"text\": \"a \\\"b\\\"\\n\",\n";
  const std::string tail =
      "  \"object\": {\n    \"inner\": null\n  },\n  \"none\": [],\n  \"empty\": {}\n}";
  CHECK(json_text(sample(), JsonLayout::stacked) ==
        head + "  \"list\": [\n    1.5,\n    2.0\n  ],\n" + tail);
  CHECK(json_text(sample(), JsonLayout::short_lists) == head + "  \"list\": [1.5, 2.0],\n" + tail);
}

TEST_CASE("a number that is none is null", "[json]") {
  const double none = std::numeric_limits<double>::quiet_NaN();
  const double endless = std::numeric_limits<double>::infinity();
  CHECK(json_text(Json(std::array<double, 3>{none, endless, -endless}), JsonLayout::one_line) ==
        "[null,null,null]");
}

TEST_CASE("numbers read back as they are told", "[json]") {
  for (const double value : {0.1, 1e-7, 1e22, -1.0 / 3, 5e-324, 1.7976931348623157e308, 0.0}) {
    CHECK(parse_json(json_text(Json(value), JsonLayout::one_line)).number ==
          amptally::as_told(value));
  }
}

TEST_CASE("bytes that are no text are replaced, and the result can be read", "[json]") {
  const std::string written = json_text(Json("a\xff\x01z"), JsonLayout::one_line);
  CHECK(written == "\"a\xEF\xBF\xBD\\u0001z\"");
  CHECK(parse_json(written).text == "a\xEF\xBF\xBD\x01z");
}
