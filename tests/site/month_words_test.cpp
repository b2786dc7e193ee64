#include "site/month_words.hpp"

#include "catch.hpp"

using namespace amptally;

TEST_CASE("months are said as one says them", "[site]") {
  CHECK(month_words(MonthSet().set()) == "all months");
  CHECK(month_words(MonthSet(0b000000000001)) == "January");
  CHECK(month_words(MonthSet(0b000000010001)) == "January and May");
  CHECK(month_words(MonthSet(0b100000000001)) == "December and January");
  CHECK(month_words(MonthSet(0b110000000111)) == "November to March");
  CHECK(month_words(MonthSet(0b110001000111)) == "July and November to March");
  CHECK(month_words(MonthSet(0b011111111111)) == "January to November");
  CHECK(month_words(MonthSet(0b001110000000)) == "August to October");
  CHECK(month_words(MonthSet()).empty());
}
