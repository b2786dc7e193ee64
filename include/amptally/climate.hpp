#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// One row of the shipped monthly tables: a named place, or a 2.5 degree cell (names empty).
/// Source: data/README.md (NASA SSE release 6.0; NCEP/NCAR Reanalysis 1; CMAP).
struct ClimateRow {
  std::string id;       ///< "oviedo"; empty for a cell
  std::string name;     ///< "Oviedo"; empty for a cell
  std::string country;  ///< ISO 3166 two letters; empty for a cell
  double latitude_deg = 0;
  double longitude_deg = 0;
  std::optional<double> elevation_m;  ///< unknown for a cell, and for half of the places
  Monthly sun_horizontal_kwh_m2_day{};
  Monthly air_temp_c{};
  Monthly rain_mm{};
};

struct ClimateMatch {
  ClimateRow row;
  double distance_km = 0;
};

/// Great-circle distance, km, on a sphere of 6371 km mean radius. Inputs in degrees.
[[nodiscard]] double distance_km(double latitude_a_deg, double longitude_a_deg,
                                 double latitude_b_deg, double longitude_b_deg);

/// The shipped place or cell nearest to a point. A place wins over a cell that is no closer.
[[nodiscard]] ClimateMatch nearest_climate(double latitude_deg, double longitude_deg);

/// The shipped climate of a point.
struct PointClimate {
  /// The shipped place or cell itself; between cells a row of no name, at the point.
  ClimateRow row;
  std::string table;                 ///< "Hobart", "42.5° N, 5° W"; "the 4 cells around"
  int cells = 0;                     ///< whose sun and temperature it is; 0 for a shipped place
  double distance_km = 0;            ///< to the place, or to the nearest of the cells
  double temperature_height_m = 0;   ///< above the sea, that `row.air_temp_c` stands for
  double sun_uncertainty_share = 0;  ///< rms error of a month's sun
  std::string rain_table;            ///< as `table`, of the rain
  double rain_km = 0;                ///< to the place or cell that the rain is of
};

/// The climate of a point: a shipped place's own within a kilometre of it; else sun and temperature
/// bilinear between the centres of the cells around, those that have no row (sea) left out and the
/// others' shares scaled to sum to 1, and the rain of the nearest place or cell. With no cell
/// around, all of it that of the nearest place or cell. docs/model.md, "Climate".
[[nodiscard]] PointClimate climate_at(double latitude_deg, double longitude_deg);

/// The climate of a shipped place itself, or of a cell at its centre.
[[nodiscard]] PointClimate climate_of(const ClimateRow& row);

/// The place at a height above the sea of its own: its air temperature, which is that of `climate`,
/// goes down by 6.5 K for each km that it is above `climate.temperature_height_m` (ISO 2533:1975,
/// the standard atmosphere's lapse rate).
[[nodiscard]] Place at_height(Place place, const PointClimate& climate, double elevation_m);

/// The shipped place called `name`: its id, its name, or "name, country", ignoring case.
[[nodiscard]] std::optional<ClimateRow> find_place(std::string_view name);

/// Shipped places with every word of `words` in their name, id or country; alphabetical.
[[nodiscard]] std::vector<ClimateRow> search_places(std::string_view words);

/// The `limit` shipped places nearest to a point, nearest first.
[[nodiscard]] std::vector<ClimateMatch> places_near(double latitude_deg, double longitude_deg,
                                                    std::size_t limit);

/// The shipped place whose name is the likely correction of `name`; empty when none is near.
[[nodiscard]] std::string likely_place(std::string_view name);

/// What a row is called: "Hobart", or "42.5° N, 5° W" for a cell.
[[nodiscard]] std::string name_of(const ClimateRow& row);

/// Standard time that a place is likely to keep.
struct UsualClock {
  double utc_offset_h = 0;
  std::string zone;        ///< as tzdata calls it; empty where the longitude alone decides
  double distance_km = 0;  ///< to the place whose clock it is; 0 without a zone
};

/// The clock of the nearest shipped place or town that a time zone is named after, without summer
/// time. Source: data/clocks.csv, from tzdata. Farther than 1000 km from them all, a zone of 15
/// degrees of longitude, as ships keep.
[[nodiscard]] UsualClock usual_clock(double latitude_deg, double longitude_deg);

/// A place at a point, in a shipped climate. Its height is the shipped place's where that is the
/// same spot, within a kilometre, and else unknown.
[[nodiscard]] Place place_of(const PointClimate& climate, double latitude_deg,
                             double longitude_deg);

/// A shipped place itself, or the centre of a cell.
[[nodiscard]] Place place_of(const ClimateRow& row);

/// Which monthly figures of a place are those of the shipped table.
struct ShippedFigures {
  bool sun;
  bool temperature;
  bool rain;
};

/// What is to be said of them; nothing where there are none.
[[nodiscard]] std::optional<Assumption> shipped_climate(const ClimateOrigin& origin,
                                                        const ShippedFigures& figures);

/// Rms error of one shipped row's monthly insolation, share of the figure: against ground stations
/// 0.10 within 60 degrees of latitude, 0.32 poleward (which also read 8 % low), and with it, as
/// squares, what shipped cells so far apart differ by. Between cells it is less: `climate_at`.
/// Sources: NASA Surface meteorology and Solar Energy release 6.0 methodology; computed from the
/// shipped table by tools/climate_distance.py.
/// @param distance_km  from the site to the place or cell whose figures are used
[[nodiscard]] double shipped_sun_uncertainty_share(double latitude_deg, double distance_km);

/// Farther than this the sun of a shipped table is another climate's. Chosen: the diagonal of a
/// cell; every place on land has a table nearer by.
inline constexpr double kFarTable_km = 300;

}  // namespace amptally::inline v0_1
