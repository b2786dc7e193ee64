#include "amptally/battery_type.hpp"

#include <algorithm>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "site/battery_words.hpp"

using namespace amptally;
using Catch::Matchers::Contains;

TEST_CASE("every type of battery has its usual values", "[battery]") {
  CHECK(battery_types().size() >= 4);
  for (const BatteryType& type : battery_types()) {
    CAPTURE(type.name);
    CHECK(&battery_type(type.kind) == &type);
    CHECK_FALSE(type.label.empty());
    CHECK(type.cell_v < type.charging_cell_v);
    CHECK(type.charging_cell_v < type.absorption_cell_v);
    CHECK(type.absorption_cell_v < type.highest_charge_cell_v);
    CHECK((type.floor_share > 0 && type.floor_share < 1));
    // What gases has its losses computed.
    CHECK(type.sealed == (type.charge_efficiency_share < 1));
    CHECK(type.rest_cell_v.front().first == 0);
    CHECK(type.rest_cell_v.back().first == 1);
    CHECK(std::ranges::is_sorted(type.rest_cell_v, {}, &Curve::value_type::second));
    CHECK(std::ranges::is_sorted(type.temp_capacity, {}, &Curve::value_type::second));
    CHECK(std::ranges::is_sorted(type.cycles, std::ranges::greater(), &Curve::value_type::second));
  }
}

TEST_CASE("a type of battery is found by its name, and a wrong name is told which there are",
          "[battery][errors]") {
  for (const BatteryType& type : battery_types()) CHECK(battery_kind(type.name) == type.kind);
  CHECK(battery_kind("agm") != battery_kind("gel"));
  CHECK_THROWS_AS(battery_kind(""), InputError);
  CHECK_THROWS_WITH(battery_kind("amg"), Contains("battery.kind: \"amg\" is not ") &&
                                             Contains("agm, ") && Contains(" or ") &&
                                             Contains("(did you mean agm?)"));
  CHECK_THROWS_WITH(battery_kind("zinc-air"), !Contains("did you mean"));
}

TEST_CASE("the sentence on the types of battery names each", "[battery]") {
  const std::string& sentence = battery_labels_sentence();
  CHECK_THAT(sentence, Contains("AGM or gel (sealed lead-acid), ") &&
                           Contains("lithium iron phosphate") &&
                           Catch::Matchers::StartsWith("Flooded lead-acid, ") &&
                           Catch::Matchers::EndsWith("."));
  for (const BatteryType& type : battery_types()) {
    const std::string_view label = type.label.substr(1, type.label.find(" (") - 1);
    CAPTURE(label);
    CHECK(sentence.find(label) != sentence.npos);
  }
}

TEST_CASE("one type of battery as it is printed", "[battery]") {
  // Source: data/batteries.json, which names the source of each figure.
  const BatteryType& type = battery_type(battery_kind("lifepo4"));
  CHECK(type.name == "lifepo4");
  CHECK(type.label == "lithium iron phosphate");
  REQUIRE(type.other_words.size() == 2);
  CHECK(type.other_words[0] == "lithium");
  CHECK(type.chemistry == Chemistry::lithium);
  CHECK(type.sealed);
  CHECK_FALSE(type.charges_in_frost);
  CHECK(type.cell_v == 3.2);
  CHECK(type.charging_cell_v == 3.35);
  CHECK(type.absorption_cell_v == 3.55);
  CHECK(type.floor_share == 0.8);
  CHECK(type.charge_efficiency_share == 0.99);
  CHECK(type.max_charge_c == 0.3);
  CHECK(type.self_discharge_pct_month == 2.5);
  CHECK(type.shelf_life_years == 12);
  REQUIRE(type.temp_capacity.size() == 3);
  CHECK(type.temp_capacity[0] == std::pair{-20.0, 0.6});
  REQUIRE(type.rest_cell_v.size() == 7);
  CHECK(type.rest_cell_v[3] == std::pair{0.5, 3.29});
  REQUIRE(type.cycles.size() == 3);
  CHECK(type.cycles[1] == std::pair{0.9, 5000.0});

  const BatteryType& flooded = battery_type(battery_kind("flooded"));
  CHECK_FALSE(flooded.sealed);
  CHECK(flooded.charges_in_frost);
  CHECK(battery_type(battery_kind("agm")).sealed);
}
