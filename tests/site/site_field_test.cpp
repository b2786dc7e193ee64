#include "amptally/site_field.hpp"

#include <fstream>
#include <set>
#include <string>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "site/fields.hpp"
#include "sitefile/site_reader.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

/// A site in which every field that may be rough is.
Site all_rough() {
  std::ifstream in(AMPTALLY_SOURCE_DIR "/tests/data/every_range.json", std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  io::ReadResult read = io::read_site(text, "every_range.json", {});
  for (const io::Problem& problem : read.problems) UNSCOPED_INFO(to_text(problem));
  REQUIRE(read.site.has_value());
  return *read.site;
}

/// `loads[0].runs[2].for` -> `loads[].runs[].for`, and without a month at the end.
std::string pattern_of(std::string path) {
  std::erase_if(path, [](char c) { return c >= '0' && c <= '9'; });
  if (path.ends_with("[]")) path.resize(path.size() - 2);
  return path;
}

bool may_be_rough(const Field& field) {
  return !field.exact && (field.type == FieldType::quantity || field.type == FieldType::monthly ||
                          field.type == FieldType::demand);
}

}  // namespace

TEST_CASE("every field that may be rough is rough in the test's site", "[site_field]") {
  std::set<std::string> rough;
  for (const RoughInput& input : all_rough().rough) rough.insert(pattern_of(input.field));
  for (const Field& field : all_fields()) {
    if (!may_be_rough(field)) continue;
    CAPTURE(field.path);
    CHECK(rough.count(std::string(field.path)) == 1);
  }
}

TEST_CASE("a rough field holds its middle, in the unit of its ends", "[site_field]") {
  const Site site = all_rough();
  for (const RoughInput& input : site.rough) {
    CAPTURE(input.field);
    const double middle = (input.low + input.high) / 2;
    CHECK_THAT(site_field(site, input.field),
               Catch::Matchers::WithinAbs(middle, 1e-9 * std::abs(middle) + 1e-12));
  }
}

TEST_CASE("writing a field changes that field and no other", "[site_field][property]") {
  const Site before = all_rough();
  for (const RoughInput& written : before.rough) {
    Site site = before;
    set_site_field(site, written.field, written.high);
    for (const RoughInput& read : before.rough) {
      CAPTURE(written.field, read.field);
      const double expected =
          read.field == written.field ? written.high : site_field(before, read.field);
      REQUIRE(site_field(site, read.field) == expected);
    }
  }
}

TEST_CASE("months of the sun are written as a list or under values", "[site_field]") {
  Site site = testing::plain_site();
  set_site_field(site, "place.insolation[11]", 1.5);
  CHECK(site.place.sun_horizontal_kwh_m2_day[11] == 1.5);
  set_site_field(site, "place.insolation.values[0]", 2.5);
  CHECK(site.place.sun_horizontal_kwh_m2_day[0] == 2.5);
}

TEST_CASE("a path that leads to no number is refused by its name", "[site_field][errors]") {
  Site site = all_rough();
  for (const std::string path : {"",
                                 "battery",
                                 "battery.capacitance",
                                 "battery.capacity.",
                                 "loads[].draw",
                                 "loads.draw",
                                 "loads[0",
                                 "loads[-1].draw",
                                 "loads[2].draw",
                                 "loads[0].per_day",
                                 "loads[1].runs[0].for",
                                 "loads[0].runs[2].for",
                                 "loads[0].runs[1][2].for",
                                 "loads[99999999999999999999].draw",
                                 "place.insolation[12]",
                                 "place.latitude",
                                 "panel.shade[0].azimuth",
                                 "panel.count",
                                 "wiring[1].length",
                                 "water.lines[3].lift",
                                 "water.lines[0].demand",
                                 "loads[1].idle"}) {
    CAPTURE(path);
    try {
      set_site_field(site, path, 1);
      FAIL_CHECK("was taken");
    } catch (const InputError& error) {
      CHECK(error.field() == path);
    }
    CHECK_THROWS_AS(site_field(site, path), InputError);
  }
}

TEST_CASE("a site without water or tank has none of their fields", "[site_field][errors]") {
  const Site site = testing::plain_site();
  CHECK_THROWS_AS(site_field(site, "water.tank.level"), InputError);
  CHECK_THROWS_AS(site_field(site, "water.tank.refill[3]"), InputError);
  CHECK_THROWS_AS(site_field(site, "water.lines[0].tube.bore"), InputError);
  CHECK_THROWS_AS(site_field(site, "panel.vmp"), InputError);
}
