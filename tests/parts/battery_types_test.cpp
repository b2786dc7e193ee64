#include <algorithm>

#include "amptally/battery.hpp"

#include "catch.hpp"

using namespace amptally;

TEST_CASE("every kind of battery has its usual values", "[battery]") {
  using enum BatteryKind;
  CHECK(battery_types().size() == 4);
  for (const BatteryKind kind : {flooded, agm, gel, lifepo4}) {
    const BatteryType& type = battery_type(kind);
    CAPTURE(type.name);
    CHECK(type.kind == kind);
    CHECK_FALSE(type.label.empty());
    CHECK(type.cell_v < type.charging_cell_v);
    CHECK(type.charging_cell_v < type.absorption_cell_v);
    CHECK((type.floor_share > 0 && type.floor_share < 1));
    CHECK(type.is_lead_acid() == (kind != lifepo4));
    CHECK(type.is_lead_acid() == type.rest_cell_v.empty());
    CHECK(std::ranges::is_sorted(type.temp_capacity, {}, &Curve::value_type::second));
    CHECK(std::ranges::is_sorted(type.cycles, std::ranges::greater(), &Curve::value_type::second));
  }
}

TEST_CASE("a battery type has the figures printed for it", "[battery][published]") {
  // Source: data/batteries.json, which names the source of each figure.
  const BatteryType& type = battery_type(BatteryKind::lifepo4);
  CHECK(type.name == "lifepo4");
  CHECK(type.label == "lithium iron phosphate");
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
}
