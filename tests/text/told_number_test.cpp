#include "text/told_number.hpp"

#include <cmath>
#include <limits>

#include "catch.hpp"

using namespace amptally;

TEST_CASE("figures for programs are told to nine digits, in the shortest text of that number") {
  // Regression, 28 Nov 2026: CSV said 1.7100000000000009, and a share served of 1.0000000000000002.
  CHECK(told_number(1.7100000000000009) == "1.71");
  CHECK(told_number(1.0000000000000002) == "1");
  CHECK(told_number(-0.35099999999999876) == "-0.351");
  CHECK(told_number(1.0 / 3) == "0.333333333");
  CHECK(told_number(2e8 / 3) == "66666666.7");
  CHECK(told_number(0) == "0");
  CHECK(as_told(12.8) == 12.8);
  CHECK(as_told(1e-320) == Approx(1e-320));
  CHECK(as_told(std::numeric_limits<double>::max()) <= std::numeric_limits<double>::max());
  CHECK(std::isnan(as_told(std::nan(""))));
  CHECK(std::isinf(as_told(std::numeric_limits<double>::infinity())));
}
