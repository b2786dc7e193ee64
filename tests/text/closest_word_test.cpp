#include "text/closest_word.hpp"

#include "catch.hpp"

using namespace amptally;

TEST_CASE("the closest word is found for a likely slip and for nothing else", "[near_miss]") {
  constexpr std::string_view words[] = {"capacity", "voltage", "kind", "peukert", "A", "mA"};
  CHECK(near_miss("capcity", words) == "capacity");
  CHECK(near_miss("cpaacity", words) == "capacity");  // neighbours swapped
  CHECK(near_miss("Voltage", words) == "voltage");
  CHECK(near_miss("knid", words) == "kind");
  CHECK(near_miss("cap", words) == "capacity");  // cut short
  CHECK(near_miss("ma", words) == "mA");
  CHECK(near_miss("x", words).empty());
  CHECK(near_miss("colour", words).empty());
  CHECK(near_miss("", words).empty());
  CHECK(near_miss("capacity", {}).empty());
}
