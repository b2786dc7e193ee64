#include "amptally/climate.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "amptally/battery_type.hpp"
#include "amptally/panel.hpp"

#include "catch.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

struct CsvTable {
  std::vector<std::vector<std::string>> rows;
};

/// A shipped table read the plain way: a second path to the figures the program has compiled in.
CsvTable read_csv(const std::string& name) {
  std::ifstream in(AMPTALLY_SOURCE_DIR "/data/" + name);
  CsvTable table;
  std::string line;
  std::getline(in, line);  // column names
  while (std::getline(in, line)) {
    // One place has a comma in its name, in quotes; nothing here looks at names.
    if (const auto quote = line.find('"'); quote != std::string::npos) {
      line.erase(quote, line.find('"', quote + 1) - quote + 1);
    }
    std::istringstream fields(line);
    table.rows.emplace_back();
    for (std::string field; std::getline(fields, field, ',');) table.rows.back().push_back(field);
  }
  return table;
}

bool same_months(const ClimateRow& row, const std::vector<std::string>& fields, std::size_t first) {
  const auto equal = [&](const Monthly& months) {
    return std::ranges::all_of(months, [&](double value) {
      return value == std::strtod(fields[first++].c_str(), nullptr);
    });
  };
  return equal(row.sun_horizontal_kwh_m2_day) && equal(row.air_temp_c) && equal(row.rain_mm);
}

}  // namespace

TEST_CASE("distances on the sphere are those of plain trigonometry", "[climate]") {
  // One degree of a great circle of radius 6371 km: 6371 pi / 180 = 111.19 km.
  CHECK_THAT(distance_km(10, 20, 11, 20), WithinAbs(111.19, 0.005));
  CHECK_THAT(distance_km(0, 20, 0, 21), WithinAbs(111.19, 0.005));
  // At 60 degrees a degree of longitude along the parallel is half that; the great circle between
  // two points 90 degrees apart is acos(sin 60 sin 60 + cos 60 cos 60 cos 90) = acos(3/4) long.
  CHECK_THAT(distance_km(60, 0, 60, 90), WithinAbs(6371 * std::acos(0.75), 1e-6));
  CHECK_THAT(distance_km(90, 0, -90, 123), WithinAbs(6371 * std::acos(-1.0), 1e-6));
  CHECK(distance_km(43.36, -5.85, 43.36, -5.85) == 0);
}

TEST_CASE("distances take longitudes 360 degrees apart for the same", "[climate][property]") {
  CHECK_THAT(distance_km(0, 179.5, 0, -179.5), WithinAbs(111.19, 0.005));
  CHECK_THAT(distance_km(10, 350, 12, 5), WithinAbs(distance_km(10, -10, 12, 5), 1e-9));
}

TEST_CASE("the nearest row is found across the date line", "[climate]") {
  // Cells are centred on multiples of 2.5 degrees; that on the line is written -180.
  const ClimateMatch match = nearest_climate(65.0, 179.9);
  CHECK(match.row.name.empty());
  CHECK(match.row.latitude_deg == 65.0);
  CHECK(match.row.longitude_deg == -180.0);
  CHECK_THAT(match.distance_km,
             WithinAbs(0.1 * 111.19 * std::cos(65 * std::acos(-1.0) / 180), 0.01));
}

TEST_CASE("the nearest row is the nearest of all rows", "[climate][property]") {
  const CsvTable places = read_csv("places.csv");
  const CsvTable cells = read_csv("climate_grid.csv");
  for (double latitude = -80; latitude <= 80; latitude += 16) {
    for (double longitude = -180; longitude < 180; longitude += 24) {
      double least = 1e9;
      const auto look = [&](const std::string& lat, const std::string& lon) {
        least = std::min(least, distance_km(std::stod(lat), std::stod(lon), latitude, longitude));
      };
      for (const auto& row : places.rows) look(row[3], row[4]);
      for (const auto& row : cells.rows) look(row[0], row[1]);
      CAPTURE(latitude, longitude);
      CHECK_THAT(nearest_climate(latitude, longitude).distance_km, WithinAbs(least, 1e-9));
    }
  }
}

TEST_CASE("a place is taken for its own coordinates, a cell far from any place", "[climate]") {
  const auto madrid = find_place("madrid");
  REQUIRE(madrid);
  const ClimateMatch at_home = nearest_climate(madrid->latitude_deg, madrid->longitude_deg);
  CHECK(at_home.row.id == "madrid");
  CHECK(at_home.distance_km == 0);
  CHECK(at_home.row.elevation_m.has_value());

  const ClimateMatch at_cell = nearest_climate(-55, -72.5);
  CHECK(at_cell.row.id.empty());
  CHECK_FALSE(at_cell.row.elevation_m.has_value());
  CHECK(at_cell.distance_km == 0);
}

TEST_CASE("every shipped figure is the file's, to the last bit", "[climate]") {
  // Source: data/places.csv and data/climate_grid.csv; see data/README.md.
  const CsvTable places = read_csv("places.csv");
  const CsvTable cells = read_csv("climate_grid.csv");
  REQUIRE(places.rows.size() == 451);
  REQUIRE(cells.rows.size() == 3395);

  for (const auto& fields : places.rows) {
    CAPTURE(fields[0]);
    const auto place = find_place(fields[0]);
    REQUIRE(place);
    REQUIRE(place->id == fields[0]);
    REQUIRE(place->latitude_deg == std::stod(fields[3]));
    REQUIRE(place->longitude_deg == std::stod(fields[4]));
    REQUIRE(place->elevation_m == std::stod(fields[5]));
    REQUIRE(same_months(*place, fields, 6));
  }
  std::size_t hidden = 0;  // a place may stand at a cell's centre, and then wins
  for (const auto& fields : cells.rows) {
    CAPTURE(fields[0], fields[1]);
    const ClimateMatch match = nearest_climate(std::stod(fields[0]), std::stod(fields[1]));
    REQUIRE(match.distance_km < 1e-6);
    if (match.row.id.empty()) {
      REQUIRE(same_months(match.row, fields, 2));
    } else {
      ++hidden;
    }
  }
  CHECK(hidden < 5);
}

TEST_CASE("a row of the table of places has the figures printed there", "[climate]") {
  // Source: data/places.csv, row abidjan: guards the order of the three groups of months.
  const auto place = find_place("Abidjan");
  REQUIRE(place);
  CHECK(place->country == "CI");
  CHECK(place->sun_horizontal_kwh_m2_day ==
        Monthly{5.16, 5.32, 5.28, 5.23, 4.85, 4.12, 4.26, 4.13, 4.18, 4.70, 4.87, 4.91});
  CHECK(place->air_temp_c ==
        Monthly{26.8, 27.1, 27.3, 27.4, 26.8, 25.7, 24.8, 24.3, 24.6, 25.2, 26.0, 26.4});
  CHECK(place->rain_mm == Monthly{31, 44, 113, 161, 210, 228, 111, 70, 100, 129, 75, 41});
}

TEST_CASE("a place is found by id, name, or name and country, however it is typed", "[climate]") {
  const auto id_of = [](const char* name) {
    const auto place = find_place(name);
    return place ? place->id : "";
  };
  CHECK(id_of("madrid") == "madrid");
  CHECK(id_of("MADRID, es") == "madrid");
  CHECK(id_of("Madrid ES") == "madrid");
  CHECK(id_of("  Abu   Dhabi ") == "abu-dhabi");
  CHECK(id_of("Ürümqi") == "urumqi");
  CHECK(id_of("URUMQI") == "urumqi");
  CHECK(id_of("ÜRÜMQI") == "urumqi");
  CHECK(id_of("Mádrid") == "madrid");
  CHECK(id_of("kobenhavn") == "kbenhavn");
  CHECK(id_of("Washington, D.C.") == "washington-d-c");
  CHECK(id_of("Madrid, FR").empty());
  CHECK(id_of("").empty());
  CHECK(find_place("washington-d-c")->name == "Washington, D.C.");
}

TEST_CASE("a search wants every word, and lists by name", "[climate]") {
  const auto found = search_places("san");
  REQUIRE(found.size() > 3);
  CHECK(std::ranges::is_sorted(found, {}, &ClimateRow::id));
  CHECK(search_places("jose SAN").size() == 1);
  CHECK(search_places("josé san cr").front().name == "San José");
  CHECK(search_places("josé san es").empty());
  CHECK(search_places("").size() == 451);
}

TEST_CASE("the nearest places come nearest first", "[climate]") {
  const auto near = places_near(40.40, -3.69, 5);
  REQUIRE(near.size() == 5);
  CHECK(near.front().row.id == "madrid");
  CHECK(std::ranges::is_sorted(near, {}, &ClimateMatch::distance_km));
  CHECK(near[1].row.id != "madrid");
  CHECK(places_near(0, 0, 0).empty());
  CHECK(places_near(0, 0, 10'000).size() == 451);
}

TEST_CASE("a slip in a place's name is put right, with its own spelling", "[climate][errors]") {
  CHECK(likely_place("Madird") == "Madrid");
  CHECK(likely_place("urumki") == "Ürümqi");
  CHECK(likely_place("San Jse") == "San José");
  CHECK(likely_place("xyzzyxyzzy").empty());
}

TEST_CASE("the stated error of the sun steps at 60 degrees of latitude", "[climate]") {
  // Source: NASA SSE release 6.0 methodology: monthly rms error 10 % equatorward, 32 % poleward.
  CHECK_THAT(shipped_sun_uncertainty_share(0, 0), WithinRel(0.10, 1e-12));
  CHECK_THAT(shipped_sun_uncertainty_share(-60, 0), WithinRel(0.10, 1e-12));
  CHECK_THAT(shipped_sun_uncertainty_share(60.1, 0), WithinRel(0.32, 1e-12));
  CHECK_THAT(shipped_sun_uncertainty_share(-75, 0), WithinRel(0.32, 1e-12));
}

TEST_CASE("the stated error of the sun grows with the distance to its table", "[climate]") {
  // tools/climate_distance.py: cells 535 km apart differ by 19.9 %, root mean square.
  CHECK_THAT(shipped_sun_uncertainty_share(40, 535), WithinRel(std::hypot(0.10, 0.199), 1e-12));
  double last = 0;
  for (double km = 0; km < 6000; km += 50) {
    const double share = shipped_sun_uncertainty_share(40, km);
    CAPTURE(km);
    REQUIRE(share >= last);
    REQUIRE(std::sqrt(3.0) * shipped_sun_uncertainty_share(70, km) < 1);  // a range of the sun
    last = share;
  }
  CHECK(place_of(nearest_climate(38, -31), 38, -31).climate.uncertainty_share <
        place_of(nearest_climate(35, -45), 35, -45).climate.uncertainty_share);
}

TEST_CASE(
    "a height of its own moves the shipped temperature by the standard atmosphere's 6.5 K a km",
    "[climate]") {
  // ISO 2533:1975. La Paz, 3,640 m, is higher than the mean of its cell.
  const ClimateMatch match = nearest_climate(-16.5, -68.15);
  const double table_m = climate_height_m(match.row);
  CHECK(table_m > 1500);
  CHECK(table_m < 4500);
  const Place shipped = place_of(match, -16.5, -68.15);
  const Place low = at_height(shipped, match.row, table_m - 1000);
  const Place same = at_height(shipped, match.row, table_m);
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK_THAT(low.air_temp_c[m], WithinAbs(shipped.air_temp_c[m] + 6.5, 1e-9));
    CHECK(same.air_temp_c[m] == shipped.air_temp_c[m]);
  }
  CHECK(low.elevation_m == table_m - 1000);
}

TEST_CASE("a place keeps the clock of its zone, without summer time", "[climate]") {
  // Source: tzdata 2025b (public domain), standard time; longitude alone would give Oviedo 0 h,
  // Urumqi 6, Windhoek 1, Buenos Aires -4, Reykjavik -1.
  struct Row {
    double latitude_deg, longitude_deg, utc_offset_h;
    const char* zone;
  };
  constexpr Row kRows[] = {{43.36, -5.85, 1, "Europe/Madrid"},
                           {-22.57, 17.08, 2, "Africa/Windhoek"},
                           {-42.88, 147.33, 10, "Australia/Hobart"},
                           {-34.60, -58.38, -3, "America/Argentina/Buenos_Aires"},
                           {64.15, -21.95, 0, "Atlantic/Reykjavik"},
                           {53.35, -6.26, 0, "Europe/Dublin"},      // summer is its standard time
                           {33.59, -7.62, 1, "Africa/Casablanca"},  // but for a month
                           {27.72, 85.32, 5.75, "Asia/Kathmandu"},
                           {-18.14, 178.44, 12, "Pacific/Fiji"}};
  for (const Row& row : kRows) {
    CAPTURE(row.zone);
    const UsualClock clock = usual_clock(row.latitude_deg, row.longitude_deg);
    CHECK(clock.utc_offset_h == row.utc_offset_h);
    CHECK(clock.zone == row.zone);
    CHECK(place_of(nearest_climate(row.latitude_deg, row.longitude_deg), row.latitude_deg,
                   row.longitude_deg)
              .utc_offset_h == row.utc_offset_h);
  }
}

TEST_CASE("every shipped place has its own clock", "[climate]") {
  for (const ClimateRow& place : search_places("")) {
    CAPTURE(place.id);
    const UsualClock clock = usual_clock(place.latitude_deg, place.longitude_deg);
    CHECK(clock.distance_km < 0.01);
    CHECK(!clock.zone.empty());
  }
}

TEST_CASE("far from any town the clock is the longitude's", "[climate]") {
  const UsualClock clock = usual_clock(-45, -120);
  CHECK(clock.zone.empty());
  CHECK(clock.utc_offset_h == -8);
}

TEST_CASE("a place is made of a shipped row as the reader makes one", "[climate]") {
  const io::ReadResult read = io::read_site(
      R"({ "format": "amptally-site/1", "place": { "latitude": 43.38, "longitude": -5.87 },
           "panel": { "power": "20 W" }, "battery": { "kind": "agm", "capacity": "7 Ah" },
           "loads": [] })",
      "site.json", {});
  REQUIRE(read.site.has_value());
  Place place = place_of(nearest_climate(43.38, -5.87), 43.38, -5.87);
  place.name = read.site->place.name;
  CHECK(place == read.site->place);
  CHECK(read.site->panel.tilt_deg == usual_tilt_deg(43.38));
  CHECK(read.site->panel.azimuth_deg == usual_azimuth_deg(43.38));
  CHECK(read.site->battery.floor_share == battery_type(battery_kind("agm")).floor_share);
}

TEST_CASE("a row is a place of its own, with its height", "[climate]") {
  const std::optional<ClimateRow> windhoek = find_place("Windhoek");
  REQUIRE(windhoek.has_value());
  const Place place = place_of(*windhoek);
  CHECK(place.name == "Windhoek");
  CHECK(place.elevation_m == windhoek->elevation_m);
  CHECK(place.utc_offset_h == 2);
  CHECK(place.climate.distance_km == 0);
}

TEST_CASE("a panel is usually as steep as the latitude, and never too flat for rain to wash it",
          "[panel]") {
  CHECK(usual_tilt_deg(-43.4) == 43);
  CHECK(usual_tilt_deg(3) == 10);
  CHECK(usual_azimuth_deg(-1) == 0);
  CHECK(usual_azimuth_deg(0) == 180);
}
