#include "amptally/climate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "place/cells_around.hpp"
#include "place/climate_tables.hpp"
#include "text/ascii.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::inline v0_1 {
namespace {

/// Mean radius of the Earth, km. Common practice, no source; the sphere is within
/// 0.6 % of the ellipsoid (from memory).
constexpr double kEarthRadius_km = 6371;

double radians(double deg) { return deg * std::numbers::pi / 180; }

double haversine(double angle_rad) {
  const double s = std::sin(angle_rad / 2);
  return s * s;
}

const tables::Figures& position_of(const tables::Figures& cell) { return cell; }
const tables::Figures& position_of(const tables::NamedPlace& place) { return place.figures; }
const tables::ClockPoint& position_of(const tables::ClockPoint& point) { return point; }

/// A row of a table and its distance from some point.
template <typename Row>
struct Near {
  const Row* row = nullptr;
  double distance_km = 0;
};

template <typename Row>
Near<Row> near(const Row& row, double latitude_deg, double longitude_deg) {
  const auto& position = position_of(row);
  return {&row, distance_km(position.latitude_cdeg / 100.0, position.longitude_cdeg / 100.0,
                            latitude_deg, longitude_deg)};
}

template <typename Row>
Near<Row> nearest_of(std::span<const Row> rows, double latitude_deg, double longitude_deg) {
  const auto latitudes_off_deg = [&](const Row& row) {
    return std::abs(position_of(row).latitude_cdeg / 100.0 - latitude_deg);
  };
  // Some row not far off: farther than it, by latitude alone, the nearest cannot be.
  const Row& hint = *std::ranges::min_element(rows, {}, [&](const Row& row) {
    return latitudes_off_deg(row) +
           std::abs(position_of(row).longitude_cdeg / 100.0 - longitude_deg);
  });
  // For rounding: also where the point is the row but for the last bit of its latitude.
  constexpr double kSlack = 1.001;
  constexpr double kSlack_km = 1e-6;
  const double hint_km = kSlack * near(hint, latitude_deg, longitude_deg).distance_km + kSlack_km;
  Near<Row> nearest;
  for (const Row& row : rows) {
    if (kEarthRadius_km * radians(latitudes_off_deg(row)) > hint_km) continue;
    const Near<Row> candidate = near(row, latitude_deg, longitude_deg);
    if (nearest.row == nullptr || candidate.distance_km < nearest.distance_km) nearest = candidate;
  }
  return nearest;
}

/// The months of a row back in their units. A quotient of two exact integers is the double nearest
/// to the printed decimal number.
ClimateRow to_row(const tables::Figures& figures) {
  ClimateRow row;
  row.latitude_deg = figures.latitude_cdeg / 100.0;
  row.longitude_deg = figures.longitude_cdeg / 100.0;
  for (std::size_t month = 0; month < 12; ++month) {
    row.sun_horizontal_kwh_m2_day[month] = figures.sun_dawh_m2_day[month] / 100.0;
    row.air_temp_c[month] = figures.air_temp_dc[month] / 10.0;
    row.rain_mm[month] = figures.rain_mm[month];
  }
  return row;
}

ClimateRow to_row(const tables::NamedPlace& place) {
  ClimateRow row = to_row(place.figures);
  row.id = place.id;
  row.name = place.name;
  row.country = place.country;
  if (place.elevation_m != tables::kUnknown_m) row.elevation_m = place.elevation_m;
  return row;
}

/// By how much the months' sun of two cells differs, root mean square, at the mean distance of such
/// pairs. Written by tools/climate_distance.py from the shipped table.
struct Farther {
  double distance_km;
  double share;
};

constexpr std::array<Farther, 13> kFarther = {{
    {168, 0.040},
    {319, 0.111},
    {535, 0.199},
    {693, 0.199},
    {899, 0.239},
    {1115, 0.261},
    {1310, 0.279},
    {1491, 0.316},
    {1701, 0.351},
    {1911, 0.370},
    {2094, 0.380},
    {2293, 0.419},
    {2508, 0.444},
}};

/// In straight lines from nothing at no distance; beyond the last, the last.
double share_apart(double distance_km) {
  Farther before{0, 0};
  for (const Farther& next : kFarther) {
    if (distance_km < next.distance_km) {
      return before.share + (next.share - before.share) * (distance_km - before.distance_km) /
                                (next.distance_km - before.distance_km);
    }
    before = next;
  }
  return before.share;
}

/// Of a row's sun at the row itself.
double share_at_the_row(double latitude_deg) { return std::abs(latitude_deg) <= 60 ? 0.10 : 0.32; }

/// Nearer than this a point is the shipped place. Chosen: its coordinates are given to 1 km.
constexpr double kSameSpot_km = 1;

/// The height that the air temperature of a row stands for: a cell's mean; a place's own, and the
/// sea's where that is not known. So the places were made: against the cells around them theirs is
/// cooler by 5.5 K for each km that they are higher, correlation -0.98, with 0 for no height.
double temperature_height_m(const ClimateRow& row) {
  if (!row.id.empty()) return row.elevation_m.value_or(0);
  const auto cells = tables::cells();
  const auto cell = nearest_of(cells, row.latitude_deg, row.longitude_deg);
  return tables::cell_heights_m()[static_cast<std::size_t>(cell.row - cells.data())];
}

/// All of it from one row.
PointClimate climate_from(ClimateMatch match, double latitude_deg) {
  return {.row = match.row,
          .table = name_of(match.row),
          .cells = match.row.id.empty() ? 1 : 0,
          .distance_km = match.distance_km,
          .temperature_height_m = temperature_height_m(match.row),
          .sun_uncertainty_share = shipped_sun_uncertainty_share(latitude_deg, match.distance_km),
          .rain_table = name_of(match.row),
          .rain_km = match.distance_km};
}

/// Sun and temperature between cells; the rain is left to the caller.
PointClimate between(std::span<const CellShare> around, double latitude_deg, double longitude_deg) {
  PointClimate climate;
  climate.cells = static_cast<int>(around.size());
  climate.distance_km = std::numeric_limits<double>::infinity();
  double apart = 0;  // a square: by how much so distant cells differ, taken as independent
  for (const auto& [index, share] : around) {
    const tables::Figures& cell = tables::cells()[index];
    const ClimateRow row = to_row(cell);
    for (std::size_t month = 0; month < kMonthsPerYear; ++month) {
      climate.row.sun_horizontal_kwh_m2_day[month] += share * row.sun_horizontal_kwh_m2_day[month];
      climate.row.air_temp_c[month] += share * row.air_temp_c[month];
    }
    climate.temperature_height_m += share * tables::cell_heights_m()[index];
    const double km = near(cell, latitude_deg, longitude_deg).distance_km;
    climate.distance_km = std::min(climate.distance_km, km);
    const double part = share * share_apart(km);
    apart += part * part;
    if (around.size() == 1) climate.table = name_of(row);
  }
  climate.row.latitude_deg = latitude_deg;
  climate.row.longitude_deg = longitude_deg;
  if (around.size() > 1) climate.table = fmt::format("the {} cells around", around.size());
  const double at_a_row = share_at_the_row(latitude_deg);
  climate.sun_uncertainty_share = std::sqrt(at_a_row * at_a_row + apart);
  return climate;
}

/// Where figures are from, for the output to say.
std::string table_text(std::string_view table, bool between) {
  return fmt::format("the shipped table{} {}", between ? ", between" : " for", table);
}

std::string away_text(double away_km, std::string_view which) {
  return away_km < kSameSpot_km ? "" : fmt::format(", {}{:.0f} km away", which, away_km);
}

constexpr char32_t kFirstMarked = 0xC0;

/// Letters without their marks for U+00C0..U+017F; '.' is left as it is.
/// Only what a keyboard without the mark would type: "ø" is "o", "æ" is "a", "ß" is "s".
constexpr std::string_view kPlainLetters =
    "aaaaaaaceeeeiiiidnooooo.ouuuuytsaaaaaaaceeeeiiiidnooooo.ouuuuyty"
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkklllllll"
    "lllnnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";

/// `text` in lower case, without the marks on Latin letters.
std::string folded(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const Utf8Character next = utf8_character(text);
    // Of a smaller number, the difference is past the end of the letters.
    const std::size_t letter = next.code - kFirstMarked;
    const bool has_plain = next.is_well_formed && letter < kPlainLetters.size();
    if (has_plain && kPlainLetters[letter] != '.') {
      out += kPlainLetters[letter];
    } else {
      for (const char c : text.substr(0, next.bytes)) out += lower(c);
    }
    text.remove_prefix(next.bytes);
  }
  return out;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (c == ' ' || c == ',' || c == '\t') {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

/// The words of `text`, folded, with one blank between.
std::string key_of(std::string_view text) {
  std::string key;
  for (const std::string& word : words_of(folded(text))) {
    if (!key.empty()) key += ' ';
    key += word;
  }
  return key;
}

}  // namespace

double distance_km(double latitude_a_deg, double longitude_a_deg, double latitude_b_deg,
                   double longitude_b_deg) {
  const double a_rad = radians(latitude_a_deg);
  const double b_rad = radians(latitude_b_deg);
  // The haversine is even and has period 360 degrees: longitudes wrap by themselves.
  const double h =
      haversine(b_rad - a_rad) +
      std::cos(a_rad) * std::cos(b_rad) * haversine(radians(longitude_b_deg - longitude_a_deg));
  return 2 * kEarthRadius_km * std::asin(std::sqrt(std::min(h, 1.0)));
}

ClimateMatch nearest_climate(double latitude_deg, double longitude_deg) {
  const auto place = nearest_of(tables::named_places(), latitude_deg, longitude_deg);
  const auto cell = nearest_of(tables::cells(), latitude_deg, longitude_deg);
  if (place.distance_km <= cell.distance_km) return {to_row(*place.row), place.distance_km};
  return {to_row(*cell.row), cell.distance_km};
}

PointClimate climate_of(const ClimateRow& row) { return climate_from({row, 0}, row.latitude_deg); }

PointClimate climate_at(double latitude_deg, double longitude_deg) {
  ClimateMatch nearest = nearest_climate(latitude_deg, longitude_deg);
  const bool is_place = !nearest.row.id.empty();
  const std::vector<CellShare> around = cells_around(latitude_deg, longitude_deg);
  if (around.empty() || (is_place && nearest.distance_km < kSameSpot_km)) {
    return climate_from(std::move(nearest), latitude_deg);
  }
  PointClimate climate = between(around, latitude_deg, longitude_deg);
  climate.row.rain_mm = nearest.row.rain_mm;
  climate.rain_table = name_of(nearest.row);
  climate.rain_km = nearest.distance_km;
  return climate;
}

Place at_height(Place place, const PointClimate& climate, double elevation_m) {
  constexpr double kLapse_k_m = 0.0065;
  const double above_m = elevation_m - climate.temperature_height_m;
  for (double& temp_c : place.air_temp_c) temp_c -= kLapse_k_m * above_m;
  place.elevation_m = elevation_m;
  return place;
}

std::optional<ClimateRow> find_place(std::string_view name) {
  const std::string wanted = key_of(name);
  for (const tables::NamedPlace& place : tables::named_places()) {
    const std::string own = key_of(place.name);
    if (wanted == place.id || wanted == own || wanted == own + ' ' + key_of(place.country)) {
      return to_row(place);
    }
  }
  return std::nullopt;
}

std::vector<ClimateRow> search_places(std::string_view words) {
  const std::vector<std::string> wanted = words_of(folded(words));
  std::vector<ClimateRow> found;
  for (const tables::NamedPlace& place : tables::named_places()) {
    const std::string text = folded(std::string(place.id) + ' ' + place.name + ' ' + place.country);
    if (std::ranges::all_of(
            wanted, [&](const std::string& w) { return text.find(w) != std::string::npos; })) {
      found.push_back(to_row(place));
    }
  }
  std::ranges::stable_sort(found, {}, [](const ClimateRow& row) { return folded(row.name); });
  return found;
}

std::vector<ClimateMatch> places_near(double latitude_deg, double longitude_deg,
                                      std::size_t limit) {
  using NearPlace = Near<tables::NamedPlace>;
  std::vector<NearPlace> all;
  for (const tables::NamedPlace& place : tables::named_places()) {
    all.push_back(near(place, latitude_deg, longitude_deg));
  }
  std::ranges::stable_sort(all, {}, &NearPlace::distance_km);
  all.resize(std::min(limit, all.size()));

  std::vector<ClimateMatch> matches;
  matches.reserve(all.size());
  for (const NearPlace& found : all) matches.push_back({to_row(*found.row), found.distance_km});
  return matches;
}

std::string likely_place(std::string_view name) {
  const auto places = tables::named_places();
  std::vector<std::string> names;
  for (const tables::NamedPlace& place : places) names.push_back(folded(place.name));

  const std::vector<std::string_view> candidates(names.begin(), names.end());
  const std::string_view closest = near_miss(folded(name), candidates);
  const auto found = std::ranges::find(names, closest);
  return found == names.end() ? "" : places[static_cast<std::size_t>(found - names.begin())].name;
}

std::string name_of(const ClimateRow& row) {
  if (!row.name.empty()) return row.name;
  return fmt::format("{:g}° {}, {:g}° {}", std::abs(row.latitude_deg),
                     row.latitude_deg < 0 ? "S" : "N", std::abs(row.longitude_deg),
                     row.longitude_deg < 0 ? "W" : "E");
}

UsualClock usual_clock(double latitude_deg, double longitude_deg) {
  // Chosen: farther off no town's clock is known to hold.
  constexpr double kFarthestTown_km = 1000;
  const auto nearest = nearest_of(tables::clock_points(), latitude_deg, longitude_deg);
  if (nearest.distance_km <= kFarthestTown_km) {
    return {nearest.row->utc_offset_quarters / 4.0, nearest.row->zone, nearest.distance_km};
  }
  return {std::round(longitude_deg / 15) + 0.0, {}, 0};  // no -0
}

Place place_of(const PointClimate& climate, double latitude_deg, double longitude_deg) {
  const ClimateRow& row = climate.row;
  const bool is_between = climate.cells > 1;
  // The height of another place some way off is no guide to this one's.
  const bool same_spot = climate.distance_km < kSameSpot_km;
  return {.name = name_of(row),
          .latitude_deg = latitude_deg,
          .longitude_deg = longitude_deg,
          .sun_horizontal_kwh_m2_day = row.sun_horizontal_kwh_m2_day,
          .air_temp_c = row.air_temp_c,
          .rain_mm = row.rain_mm,
          .elevation_m = same_spot ? row.elevation_m : std::nullopt,
          .utc_offset_h = usual_clock(latitude_deg, longitude_deg).utc_offset_h,
          .climate = {.sun = table_text(climate.table, is_between),
                      .distance_km = climate.distance_km,
                      .uncertainty_share = climate.sun_uncertainty_share,
                      .table = climate.table,
                      .table_km = climate.distance_km,
                      .between = is_between,
                      .rain_table = climate.rain_table,
                      .rain_km = climate.rain_km}};
}

Place place_of(const ClimateRow& row) {
  return place_of(climate_of(row), row.latitude_deg, row.longitude_deg);
}

std::optional<Assumption> shipped_climate(const ClimateOrigin& origin,
                                          const ShippedFigures& figures) {
  std::vector<std::string_view> names;
  if (figures.sun) names.emplace_back("sun");
  if (figures.temperature) names.emplace_back("temperature");
  const bool other_rain = figures.rain && origin.rain_table != origin.table;
  if (figures.rain && !other_rain) names.emplace_back("rain");
  std::string sources;
  if (!names.empty()) {
    sources = fmt::format("{} from {}{}", all_of(names), table_text(origin.table, origin.between),
                          away_text(origin.table_km, origin.between ? "the nearest " : ""));
  }
  if (other_rain) {
    sources += fmt::format("{}rain from {}{}", names.empty() ? "" : "; ",
                           table_text(origin.rain_table, false), away_text(origin.rain_km, ""));
  }
  if (sources.empty()) return std::nullopt;
  const std::string rough = figures.sun
                                ? fmt::format("; a month's sun there is good to about {:.0f} %",
                                              100 * origin.uncertainty_share)
                                : "";
  return Assumption{AssumptionKind::shipped_climate, fmt::format("Monthly {}{}.", sources, rough)};
}

double shipped_sun_uncertainty_share(double latitude_deg, double distance_km) {
  const double at_the_row = share_at_the_row(latitude_deg);
  const double apart = share_apart(distance_km);
  return std::sqrt(at_the_row * at_the_row + apart * apart);
}

}  // namespace amptally::inline v0_1
