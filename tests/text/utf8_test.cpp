#include "text/utf8.hpp"

#include <string>

#include "catch.hpp"

using namespace amptally;

TEST_CASE("a character of UTF-8 is read whole", "[utf8]") {
  // Source: RFC 3629, section 3: the first and the last of each length.
  struct Row {
    std::string text;
    char32_t code;
  };
  const Row rows[] = {
      {std::string(1, '\0'), 0},     {"\x7f", 0x7F},           {"\xc2\x80", 0x80},
      {"\xdf\xbf", 0x7FF},           {"\xe0\xa0\x80", 0x800},  {"\xed\x9f\xbf", 0xD7FF},
      {"\xee\x80\x80", 0xE000},      {"\xef\xbf\xbf", 0xFFFF}, {"\xf0\x90\x80\x80", 0x10000},
      {"\xf4\x8f\xbf\xbf", 0x10FFFF}};
  for (const Row& row : rows) {
    const Utf8Character character = utf8_character(row.text + "x");
    CAPTURE(row.text);
    CHECK(character.code == row.code);
    CHECK(character.bytes == row.text.size());
    CHECK(character.is_well_formed);
    CHECK(is_utf8(row.text));
  }
}

TEST_CASE("what is no UTF-8 is told, with the bytes it takes up", "[utf8]") {
  struct Row {
    std::string text;
    std::size_t bytes;
  };
  const Row rows[] = {{"\x80", 1},   // goes on with nothing
                      {"\xff", 1},   // never in UTF-8
                      {"\xc3", 1},   // cut off
                      {"\xc3x", 1},  // and not gone on with
                      {"\xe2\x82", 1},
                      {"\xc0\xbc", 2},      // "<" in two bytes
                      {"\xe0\x80\xbc", 3},  // and in three
                      {"\xed\xa0\x80", 3},  // half of a pair of surrogates
                      {"\xf0\x80\x80\xbc", 4},
                      {"\xf4\x90\x80\x80", 4}};  // beyond U+10FFFF
  for (const Row& row : rows) {
    const Utf8Character character = utf8_character(row.text);
    CAPTURE(row.text);
    CHECK(character.bytes == row.bytes);
    CHECK_FALSE(character.is_well_formed);
    CHECK_FALSE(is_utf8("a" + row.text));
  }
  CHECK(is_utf8(""));
}

TEST_CASE("a byte order mark is taken off once, and only at the start", "[utf8]") {
  CHECK(without_byte_order_mark("\xef\xbb\xbf\xef\xbb\xbf"
                                "a") ==
        "\xef\xbb\xbf"
        "a");
  CHECK(without_byte_order_mark("a\xef\xbb\xbf") == "a\xef\xbb\xbf");
  CHECK(without_byte_order_mark("\xef\xbb").size() == 2);
}
