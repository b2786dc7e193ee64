#include "random_site.hpp"

#include <map>
#include <string>

#include "catch.hpp"

using namespace amptally;

TEST_CASE("the sites of chance that are run have everything a site can have", "[property]") {
  std::map<std::string, int> met;
  for (const std::uint64_t seed : testing::seeds_to_run(1)) {
    for (const std::string& kind : testing::kinds_of(testing::random_site_file(seed).site)) {
      ++met[kind];
    }
  }
  CHECK(met.size() == 39);
  for (const auto& [kind, count] : met) {
    CAPTURE(kind, count);
    CHECK(count >= 2);
  }
}

TEST_CASE("a site of chance is the same each time it is made", "[property]") {
  CHECK(testing::random_site_file(7).text == testing::random_site_file(7).text);
  CHECK(testing::random_site_file(7).text != testing::random_site_file(8).text);
}
