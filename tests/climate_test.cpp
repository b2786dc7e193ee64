#include "amptally/climate.hpp"

#include "catch.hpp"

TEST_CASE("a degree of latitude is 111.19 km on the sphere", "[climate]") {
  CHECK_THAT(amptally::distance_km(10, 20, 11, 20), Catch::Matchers::WithinAbs(111.19, 0.005));
}
