#include "amptally/climate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <utility>

#include <fmt/format.h>

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

TEST_CASE("a point a bit's breadth from a row has a nearest row", "[climate]") {
  for (const ClimateRow& place : search_places("")) {
    CAPTURE(place.id);
    for (const double toward : {-90.0, 90.0}) {
      const double latitude = std::nextafter(place.latitude_deg, toward);
      CHECK(nearest_climate(latitude, place.longitude_deg).row.id == place.id);
      CHECK(usual_clock(latitude, place.longitude_deg).distance_km < 0.01);
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
    REQUIRE(place->elevation_m.has_value() == !fields[5].empty());
    if (place->elevation_m) REQUIRE(*place->elevation_m == std::stod(fields[5]));
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
  CHECK(climate_at(38, -31).sun_uncertainty_share < climate_at(35, -45).sun_uncertainty_share);
}

TEST_CASE("sun and temperature at a point are bilinear between the centres of the cells around",
          "[climate]") {
  // Area shares worked out by hand: a quarter of a cell north of 40 N, half a cell east of 5 W.
  const CsvTable cells = read_csv("climate_grid.csv");
  const CsvTable heights = read_csv("cell_heights.csv");
  const PointClimate here = climate_at(40.625, -3.75);
  CHECK(here.cells == 4);
  CHECK(here.table == "the 4 cells around");
  Monthly sun{};
  Monthly air{};
  double height_m = 0;
  struct Corner {
    const char *latitude, *longitude;
    double share;
  };
  for (const Corner& corner : {Corner{"40", "-5", 0.375},
                               {"40", "-2.5", 0.375},
                               {"42.5", "-5", 0.125},
                               {"42.5", "-2.5", 0.125}}) {
    const auto row = std::ranges::find_if(cells.rows, [&](const auto& fields) {
      return fields[0] == corner.latitude && fields[1] == corner.longitude;
    });
    REQUIRE(row != cells.rows.end());
    for (std::size_t m = 0; m < 12; ++m) {
      sun[m] += corner.share * std::stod((*row)[2 + m]);
      air[m] += corner.share * std::stod((*row)[14 + m]);
    }
    const auto& height = heights.rows[static_cast<std::size_t>(row - cells.rows.begin())];
    height_m += corner.share * std::stod(height[2]);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK_THAT(here.row.sun_horizontal_kwh_m2_day[m], WithinAbs(sun[m], 1e-12));
    CHECK_THAT(here.row.air_temp_c[m], WithinAbs(air[m], 1e-12));
  }
  CHECK_THAT(here.temperature_height_m, WithinAbs(height_m, 1e-9));
  // Rain is patchy: the nearest row's.
  CHECK(here.row.rain_mm == nearest_climate(40.625, -3.75).row.rain_mm);
  CHECK(here.rain_table == name_of(nearest_climate(40.625, -3.75).row));
  CHECK_THAT(here.distance_km, WithinAbs(distance_km(40.625, -3.75, 40, -2.5), 1e-9));
}

TEST_CASE("cells of the sea are left out, and one alone is taken as it is", "[climate]") {
  std::array<int, 5> points{};
  for (double latitude = -50; latitude < 80; latitude += 3.7) {
    for (double longitude = -180; longitude < 180; longitude += 3.1) {
      CAPTURE(latitude, longitude);
      const PointClimate here = climate_at(latitude, longitude);
      if (!here.row.id.empty()) continue;
      ++points[static_cast<std::size_t>(here.cells)];
      if (here.cells != 1) continue;
      const ClimateRow& cell = nearest_climate(here.row.latitude_deg, here.row.longitude_deg).row;
      CHECK(here.sun_uncertainty_share ==
            shipped_sun_uncertainty_share(latitude, here.distance_km));
      if (here.table == name_of(cell)) {
        CHECK(here.row.sun_horizontal_kwh_m2_day == cell.sun_horizontal_kwh_m2_day);
      }
    }
  }
  for (std::size_t cells = 1; cells < points.size(); ++cells) CHECK(points[cells] > 30);
}

namespace {

/// The months of the cell centred on a point; nothing where it has no row.
std::optional<Monthly> sun_of_cell(double latitude_deg, double longitude_deg) {
  const ClimateMatch match = nearest_climate(latitude_deg, longitude_deg);
  if (match.distance_km > 1 || !match.row.id.empty()) return std::nullopt;
  return match.row.sun_horizontal_kwh_m2_day;
}

}  // namespace

TEST_CASE("no month's sun jumps as a point crosses a cell's border", "[climate][property]") {
  // Steps of 0.01 degree are 1/250 of a cell; along a bilinear surface a month moves by no more
  // than that share of the largest difference of two corners, here within 1.1 kWh/m2/day.
  const auto step_moves = [](double latitude, double longitude, double latitude_step,
                             double longitude_step, int& full) {
    PointClimate before = climate_at(latitude, longitude);
    for (int i = 1; i <= 4000; ++i) {
      const double lon = longitude + i * longitude_step;
      PointClimate here = climate_at(latitude + i * latitude_step, lon > 180 ? lon - 360 : lon);
      const bool four = here.cells == 4 && before.cells == 4;
      full += four ? 1 : 0;
      for (std::size_t m = 0; four && m < 12; ++m) {
        CAPTURE(here.row.latitude_deg, here.row.longitude_deg, m);
        REQUIRE(std::abs(here.row.sun_horizontal_kwh_m2_day[m] -
                         before.row.sun_horizontal_kwh_m2_day[m]) < 0.02);
        REQUIRE(std::abs(here.row.air_temp_c[m] - before.row.air_temp_c[m]) < 0.15);
      }
      if (four)
        REQUIRE(std::abs(here.sun_uncertainty_share - before.sun_uncertainty_share) < 0.001);
      before = std::move(here);
    }
  };
  int full = 0;
  step_moves(48.3, 2.0, 0.001, 0.01, full);      // across Europe
  step_moves(-25.3, 117.0, 0.001, 0.005, full);  // across Australia
  step_moves(20.1, 12.4, 0.005, 0.003, full);    // across the Sahara
  step_moves(66.1, 160.0, 0.0005, 0.01, full);   // across the date line
  CHECK(full > 10'000);
}

TEST_CASE("sun and temperature are continuous along a coast's own edges too",
          "[climate][property]") {
  // On a line between two centres that both have a row, the cells to either side of it count
  // nothing, whether they have one or not.
  int edges = 0;
  for (double latitude = -35; latitude <= 60; latitude += 2.5) {
    for (double longitude = -177.5; longitude < 177.5; longitude += 2.5) {
      if (!sun_of_cell(latitude, longitude) || !sun_of_cell(latitude, longitude + 2.5)) continue;
      ++edges;
      const double middle = longitude + 1.25;
      const PointClimate south = climate_at(latitude - 1e-6, middle);
      const PointClimate north = climate_at(latitude + 1e-6, middle);
      if (!south.row.id.empty() || !north.row.id.empty()) continue;
      for (std::size_t m = 0; m < 12; ++m) {
        CAPTURE(latitude, longitude, m);
        REQUIRE_THAT(south.row.sun_horizontal_kwh_m2_day[m],
                     WithinAbs(north.row.sun_horizontal_kwh_m2_day[m], 1e-4));
        REQUIRE_THAT(south.row.air_temp_c[m], WithinAbs(north.row.air_temp_c[m], 1e-3));
      }
    }
  }
  CHECK(edges > 1000);
}

TEST_CASE("longitudes 360 degrees apart are one point of the grid", "[climate]") {
  const PointClimate east = climate_at(66.3, 179.999999);
  const PointClimate west = climate_at(66.3, -180);
  CHECK(climate_at(66.3, 180).row.sun_horizontal_kwh_m2_day == west.row.sun_horizontal_kwh_m2_day);
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK_THAT(east.row.sun_horizontal_kwh_m2_day[m],
               WithinAbs(west.row.sun_horizontal_kwh_m2_day[m], 1e-5));
  }
}

TEST_CASE("a point within a kilometre of a shipped place is that place", "[climate]") {
  const ClimateRow hobart = find_place("Hobart").value();
  const PointClimate here = climate_at(hobart.latitude_deg + 0.005, hobart.longitude_deg);
  CHECK(here.table == "Hobart");
  CHECK(here.row.sun_horizontal_kwh_m2_day == hobart.sun_horizontal_kwh_m2_day);
  CHECK(climate_at(hobart.latitude_deg + 0.01, hobart.longitude_deg).row.id.empty());
}

TEST_CASE("with no cell around a point is in the climate of the nearest row", "[climate]") {
  const PointClimate far = climate_at(-45, -120);
  const ClimateMatch nearest = nearest_climate(-45, -120);
  CHECK(far.distance_km == nearest.distance_km);
  CHECK(far.distance_km > kFarTable_km);
  CHECK(far.row.sun_horizontal_kwh_m2_day == nearest.row.sun_horizontal_kwh_m2_day);
  CHECK(far.sun_uncertainty_share == shipped_sun_uncertainty_share(-45, nearest.distance_km));
}

TEST_CASE("between cells the stated error adds up theirs as independent", "[climate]") {
  // Half-way between four, all as far but for the meridians' drawing together by 0.1 %, each
  // counts a quarter: 0.10 beside half of what cells at that distance
  // differ by (tools/climate_distance.py --between shows it is no less than what is left).
  const PointClimate middle = climate_at(1.25, 21.25);
  REQUIRE(middle.cells == 4);
  const double alone = shipped_sun_uncertainty_share(1.25, middle.distance_km);
  const double apart = std::sqrt(alone * alone - 0.10 * 0.10);
  CHECK_THAT(middle.sun_uncertainty_share, WithinRel(std::hypot(0.10, apart / 2), 1e-4));
  CHECK(middle.sun_uncertainty_share < alone);
}

TEST_CASE("a shipped place's temperature stands for its own height, or the sea's where unknown",
          "[climate]") {
  // Against the cells around: brought from their height to the place's by 6.5 K a km, the places'
  // year is met far better than without, also those of unknown height.
  std::array<double, 2> with{};
  std::array<double, 2> without{};
  std::array<int, 2> count{};
  for (const ClimateRow& place : search_places("")) {
    const PointClimate own = climate_of(place);
    CHECK(own.temperature_height_m == place.elevation_m.value_or(0));
    // Just out of the place's own kilometre.
    const double latitude = place.latitude_deg + 0.02;
    const PointClimate around = climate_at(latitude, place.longitude_deg);
    if (around.cells != 4) continue;
    const Place moved = at_height(place_of(around, latitude, place.longitude_deg), around,
                                  own.temperature_height_m);
    double off_with = 0;
    double off_without = 0;
    for (std::size_t m = 0; m < 12; ++m) {
      off_with += (moved.air_temp_c[m] - place.air_temp_c[m]) / 12;
      off_without += (around.row.air_temp_c[m] - place.air_temp_c[m]) / 12;
    }
    const std::size_t kind = place.elevation_m ? 0 : 1;
    with[kind] += off_with * off_with;
    without[kind] += off_without * off_without;
    ++count[kind];
  }
  for (const std::size_t kind : {0U, 1U}) {
    const double moved_k = std::sqrt(with[kind] / count[kind]);
    const double as_is_k = std::sqrt(without[kind] / count[kind]);
    CAPTURE(kind, moved_k, as_is_k);
    CHECK(count[kind] > 90);
    CHECK(moved_k < as_is_k / 3);
  }
}

TEST_CASE("heights that are not known are not 0", "[climate]") {
  const auto places = search_places("");
  CHECK(std::ranges::count_if(places, [](const auto& p) { return !p.elevation_m; }) == 215);
  CHECK_FALSE(find_place("Hobart")->elevation_m.has_value());
  CHECK_FALSE(place_of(*find_place("Hobart")).elevation_m.has_value());
  CHECK(find_place("Madrid")->elevation_m == 584);
}

TEST_CASE(
    "a height of its own moves the shipped temperature by the standard atmosphere's 6.5 K a km",
    "[climate]") {
  // ISO 2533:1975. La Paz, 3,640 m, is higher than the mean of its cells.
  const PointClimate climate = climate_at(-16.6, -68.15);
  const double table_m = climate.temperature_height_m;
  CHECK(table_m > 1500);
  CHECK(table_m < 4500);
  const Place shipped = place_of(climate, -16.6, -68.15);
  const Place low = at_height(shipped, climate, table_m - 1000);
  const Place same = at_height(shipped, climate, table_m);
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK_THAT(low.air_temp_c[m], WithinAbs(shipped.air_temp_c[m] + 6.5, 1e-9));
    CHECK(same.air_temp_c[m] == shipped.air_temp_c[m]);
  }
  CHECK(low.elevation_m == table_m - 1000);
  CHECK_FALSE(shipped.elevation_m.has_value());
}

TEST_CASE("what is said of the shipped climate names cells and rain apart", "[climate]") {
  const ClimateOrigin between = place_of(climate_at(43.38, -5.87), 43.38, -5.87).climate;
  CHECK(between.sun == "the shipped table, between the 4 cells around");
  CHECK(shipped_climate(between, {true, true, true})->text ==
        "Monthly sun and temperature from the shipped table, between the 4 cells around, the "
        "nearest " +
            fmt::format("{:.0f} km away; rain from the shipped table for {}, {:.0f} km away",
                        between.table_km, between.rain_table, between.rain_km) +
            "; a month's sun there is good to about 10 %.");
  CHECK(shipped_climate(between, {false, false, true})->text ==
        fmt::format("Monthly rain from the shipped table for {}, {:.0f} km away.",
                    between.rain_table, between.rain_km));
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
    CHECK(place_of(climate_at(row.latitude_deg, row.longitude_deg), row.latitude_deg,
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
  Place place = place_of(climate_at(43.38, -5.87), 43.38, -5.87);
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
