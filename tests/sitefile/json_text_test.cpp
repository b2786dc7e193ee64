#include "sitefile/json_text.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "sitefile/file_text.hpp"

using namespace amptally;
using namespace amptally::io;
using Catch::Matchers::Contains;

namespace {

/// "LINE:COLUMN message" of a text that is not JSON; empty if it is.
std::string fault(std::string_view text) {
  try {
    (void)parse_json(text);
    return {};
  } catch (const JsonError& error) {
    std::ostringstream out;
    out << error.position().line << ':' << error.position().column << ' ' << error.what();
    return out.str();
  }
}

/// A good site file that uses the whole grammar.
std::string every_field() {
  std::ifstream in(std::filesystem::path(AMPTALLY_SOURCE_DIR) / "tests/data/every_field.json");
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string read_fault(const std::string& path, std::istream& in, std::size_t limit_bytes) {
  try {
    (void)read_file(path, in, limit_bytes);
    return {};
  } catch (const DataError& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("values know the line and column they stood at", "[json]") {
  const Node root = parse_json(
      "\xEF\xBB\xBF{ // a comment, with \"quotes\": {\n"
      "  \"größe\": 12.50, /* two\n lines */ \"list\": [1,\n   \"a \\\" b\", {}]\n}");
  const Node* size = root.member("größe");
  REQUIRE(size != nullptr);
  CHECK(size->position.line == 2);
  CHECK(size->position.column == 12);  // ö and ß are one column each
  CHECK(size->text == "12.50");
  CHECK(size->number == 12.5);
  const Node* list = root.member("list");
  REQUIRE(list != nullptr);
  CHECK(list->key_position.line == 3);
  CHECK(list->key_position.column == 11);
  REQUIRE(list->children.size() == 3);
  CHECK(list->children[1].position.line == 4);
  CHECK(list->children[1].position.column == 4);
  CHECK(list->children[1].text == "a \" b");
  CHECK(list->children[2].position.column == 14);
}

TEST_CASE("an escape that is right is not blamed for what is wrong behind it", "[json][errors]") {
  CHECK(fault("{\"a\": \"caf\\u00e9 \\x\"}") ==
        "1:18 a backslash that starts no known escape (write \\\\ for a backslash)");
  CHECK(fault("{\"a\": \"caf\\u00e9\n\"}") == "1:7 this text has no closing quote on its line");
  CHECK(fault("{\"a\": \"caf\\u00g9\"}") ==
        "1:11 \\u needs four hexadecimal digits, as in \\u00e9");
  CHECK_THAT(fault("{\"a\": \"\\ud83c\"}"), Contains("half of a pair"));
  CHECK(fault("{\"a\": \"\\ud83c\\udf31\"}").empty());
  CHECK(fault("{\"a\": \"\\ud83c\\udf31 \\x\"}") ==
        "1:21 a backslash that starts no known escape (write \\\\ for a backslash)");
}

TEST_CASE("duplicate names are both kept, in file order", "[json]") {
  const Node root = parse_json(R"({"b": 1, "a": 2, "b": 3})");
  REQUIRE(root.children.size() == 3);
  CHECK(root.children[2].key == "b");
  CHECK(root.member("b")->number == 1);
}

TEST_CASE("a tree written out reads back the same", "[json]") {
  const std::string text =
      "{\n  \"a\": [1, 2.5, \"x\\ny\"],\n  \"b\": {\n    \"c\": true\n  },\n"
      "  \"d\": [\n    {}\n  ],\n  \"e\": null\n}\n";
  CHECK(to_text(parse_json(text)) == text);
}

TEST_CASE("nesting is read to 64 brackets and no deeper", "[json][errors]") {
  CHECK(fault(std::string(64, '[') + std::string(64, ']')).empty());
  CHECK(fault(std::string(65, '[') + std::string(65, ']')) ==
        "1:65 nested deeper than 64 brackets");
}

TEST_CASE("five megabytes of nonsense are refused at once", "[json][errors]") {
  CHECK_THAT(fault(std::string(5'000'000, '[')), Contains("nested deeper"));
  CHECK_THAT(fault(std::string(5'000'000, '"')),
             Contains("closing quote") || Contains("colon") || Contains("{"));
  CHECK_THAT(fault("{\"a\":" + std::string(5'000'000, '9') + "}"), Contains("too large"));
  std::string noise(5'000'000, '\0');
  unsigned state = 1;
  for (char& c : noise) {
    state = state * 1664525U + 1013904223U;  // any spread of bytes will do
    c = static_cast<char>(state >> 24U);
  }
  CHECK_FALSE(fault(noise).empty());
}

TEST_CASE("a file cut short anywhere is refused", "[json][errors]") {
  const std::string text = every_field();
  REQUIRE(text.size() > 1000);
  const std::size_t end = text.rfind('}');
  for (std::size_t length = 0; length <= end; ++length) {
    INFO("the first " << length << " bytes");
    REQUIRE_FALSE(fault(std::string_view(text).substr(0, length)).empty());
  }
}

TEST_CASE("a file with a changed byte is read or refused in one line, and never crashes",
          "[json][errors]") {
  const std::string text = every_field();
  for (std::size_t at = 0; at < text.size(); at += 7) {
    for (const char c : {'"', '{', ']', ',', '\\', '9', '\0', '\xE2', '/'}) {
      std::string changed = text;
      changed[at] = c;
      const std::string said = fault(changed);
      REQUIRE(said.find('\n') == std::string::npos);
    }
  }
}

TEST_CASE("files that cannot be read are told apart", "[json][errors]") {
  std::istringstream in("{}");
  const std::filesystem::path folder = std::filesystem::path(AMPTALLY_SOURCE_DIR) / "tests";
  const std::string missing = (folder / "no_such.json").string();
  const std::string large_file = (folder / "data" / "every_field.json").string();
  CHECK(read_fault(missing, in, 100) == missing + ": no such file");
  CHECK(read_fault(folder.string(), in, 100) == folder.string() + ": is a folder, not a file");
  CHECK(read_fault(large_file, in, 100) ==
        large_file + ": larger than 100 bytes, the most that is read");
  CHECK(read_file("-", in) == "{}");
  std::istringstream large(std::string(kMaxFileBytes + 1, ' '));
  CHECK(read_fault("-", large, kMaxFileBytes) ==
        "standard input: larger than 4 MiB, the most that is read");
  std::istringstream just(std::string(kMaxFileBytes, ' '));
  CHECK(read_file("-", just).size() == kMaxFileBytes);
}
