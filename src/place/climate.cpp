#include "amptally/climate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <vector>

#include <fmt/format.h>

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
  constexpr double kSlack = 1.001;  // for rounding
  const double hint_km = kSlack * near(hint, latitude_deg, longitude_deg).distance_km;
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
  row.elevation_m = place.elevation_m;
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

double climate_height_m(const ClimateRow& row) {
  const auto cells = tables::cells();
  const auto nearest = nearest_of(cells, row.latitude_deg, row.longitude_deg);
  return tables::cell_heights_m()[static_cast<std::size_t>(nearest.row - cells.data())];
}

Place at_height(Place place, const ClimateRow& row, double elevation_m) {
  constexpr double kLapse_k_m = 0.0065;
  const double above_m = elevation_m - climate_height_m(row);
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

Place place_of(const ClimateMatch& match, double latitude_deg, double longitude_deg) {
  const ClimateRow& row = match.row;
  // The height of another place some way off is no guide to this one's.
  const bool same_spot = match.distance_km < 1;
  return {.name = name_of(row),
          .latitude_deg = latitude_deg,
          .longitude_deg = longitude_deg,
          .sun_horizontal_kwh_m2_day = row.sun_horizontal_kwh_m2_day,
          .air_temp_c = row.air_temp_c,
          .rain_mm = row.rain_mm,
          .elevation_m = same_spot ? row.elevation_m.value_or(0) : 0,
          .utc_offset_h = usual_clock(latitude_deg, longitude_deg).utc_offset_h,
          .climate = {
              .sun = "the shipped table for " + name_of(row),
              .distance_km = match.distance_km,
              .uncertainty_share = shipped_sun_uncertainty_share(latitude_deg, match.distance_km),
              .table = name_of(row),
              .table_km = match.distance_km}};
}

Place place_of(const ClimateRow& row) {
  return place_of({row, 0}, row.latitude_deg, row.longitude_deg);
}

std::optional<Assumption> shipped_climate(const ClimateOrigin& origin,
                                          const ShippedFigures& figures) {
  std::vector<std::string_view> names;
  if (figures.sun) names.emplace_back("sun");
  if (figures.temperature) names.emplace_back("temperature");
  if (figures.rain) names.emplace_back("rain");
  if (names.empty()) return std::nullopt;
  const std::string away =
      origin.table_km < 1 ? "" : fmt::format(", {:.0f} km away", origin.table_km);
  const std::string rough = figures.sun
                                ? fmt::format("; a month's sun there is good to about {:.0f} %",
                                              100 * origin.uncertainty_share)
                                : "";
  return Assumption{AssumptionKind::shipped_climate,
                    fmt::format("Monthly {} from the shipped table for {}{}{}.", all_of(names),
                                origin.table, away, rough)};
}

double shipped_sun_uncertainty_share(double latitude_deg, double distance_km) {
  const double at_the_cell = std::abs(latitude_deg) <= 60 ? 0.10 : 0.32;
  const double apart = share_apart(distance_km);
  return std::sqrt(at_the_cell * at_the_cell + apart * apart);
}

}  // namespace amptally::inline v0_1
