#include "site/site_numbers.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

#include "amptally/site_field.hpp"

#include "catch.hpp"
#include "sitefile/site_reader.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

Site site_of(const std::string& name) {
  std::ifstream in(AMPTALLY_SOURCE_DIR "/" + name);
  const std::string text(std::istreambuf_iterator<char>(in), {});
  return io::read_site(text, name, {}).site.value();
}

std::vector<SiteNumber> site_numbers(const Site& site) {
  std::vector<SiteNumber> numbers;
  for_each_number(site, [&](const SiteNumber& number) { numbers.push_back(number); });
  return numbers;
}

const SiteNumber* find(const std::vector<SiteNumber>& numbers, const std::string& path) {
  const auto it = std::find_if(numbers.begin(), numbers.end(),
                               [&](const SiteNumber& number) { return number.path() == path; });
  return it == numbers.end() ? nullptr : &*it;
}

/// The months of sun come by the shorter of their two paths.
std::string first_path(std::string path) {
  const std::string under = ".values";
  const std::size_t at = path.find(under);
  return at == path.npos ? path : path.erase(at, under.size());
}

}  // namespace

TEST_CASE("every rough field is among a site's numbers, with the value the site has", "[fields]") {
  const Site site = site_of("tests/data/every_range.json");
  const std::vector<SiteNumber> numbers = site_numbers(site);
  std::set<std::string> paths;
  for (const SiteNumber& number : numbers) CHECK(paths.insert(number.path()).second);
  for (const RoughInput& rough : site.rough) {
    CAPTURE(rough.field);
    const SiteNumber* const number = find(numbers, first_path(rough.field));
    REQUIRE(number != nullptr);
    CHECK(number->value == site_field(site, rough.field));
    CHECK(base_unit(number->limits->dimension) == rough.unit);
  }
}

TEST_CASE("the numbers of a site that was read are within their limits", "[fields]") {
  for (const char* file : {"tests/data/every_field.json", "tests/data/every_range.json",
                           "examples/terrace.json", "examples/goat-trough.json"}) {
    for (const SiteNumber& number : site_numbers(site_of(file))) {
      CAPTURE(file, number.path(), number.value);
      CHECK(number.limits->allow(number.value));
    }
  }
}

TEST_CASE("a number out of its limits is told apart by the unit it was said in", "[fields]") {
  Site site = testing::plain_site();
  site.loads = {testing::always(2000)};
  const auto draw_is_allowed = [&] {
    const std::vector<SiteNumber> numbers = site_numbers(site);
    const SiteNumber* const draw = find(numbers, "loads[0].draw");
    return draw->limits->allow(draw->value);
  };
  CHECK_FALSE(draw_is_allowed());  // amperes, of which 1000 are allowed
  site.loads[0].draw.unit = Draw::Unit::watts;
  CHECK(draw_is_allowed());
}

TEST_CASE("what a site does not give is not among its numbers", "[fields]") {
  const std::vector<SiteNumber> numbers = site_numbers(testing::plain_site());
  for (const char* path : {"panel.vmp", "water.tank.volume", "loads[0].draw", "aim.floor"}) {
    CAPTURE(path);
    CHECK(find(numbers, path) == nullptr);
  }
  CHECK(find(numbers, "panel.count")->value == 1);
  CHECK(find(numbers, "place.rain[11]") != nullptr);
  CHECK(find(numbers, "place.rain[12]") == nullptr);
}
