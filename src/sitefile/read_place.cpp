#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "amptally/climate.hpp"
#include "amptally/error.hpp"
#include "amptally/quantity.hpp"

#include "sitefile/hint.hpp"
#include "sitefile/section_readers.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

/// A label that is also a shipped place further off than this is said to be only a label. Chosen:
/// about one cell of the shipped grid.
constexpr double kFarFromNamesake_km = 250;

/// What `text`, degrees and a letter of the compass such as "8.2 W", is in degrees north or east;
/// nothing where it is anything else.
std::optional<double> degrees_by_compass(std::string_view text, std::string_view letters) {
  text = trimmed(text);
  if (text.empty()) return std::nullopt;
  const std::size_t letter = letters.find(lower(text.back()));
  if (letter == letters.npos) return std::nullopt;
  text = trimmed(text.substr(0, text.size() - 1));
  const bool is_bare = !text.empty() && is_digit(text.back());
  try {
    const std::string given = std::string(text) + (is_bare ? " deg" : "");
    const double degrees = parse_quantity(given, Dimension::angle).middle;
    return letter == 0 ? degrees : -degrees;
  } catch (const InputError&) {
    return std::nullopt;
  }
}

/// @param letters  of the compass for what counts up and for what counts down, in small letters
std::optional<double> read_coordinate(ObjectReader& in, std::string_view name,
                                      std::string_view letters) {
  const Node* const node = in.member(name);
  if (node == nullptr || node->kind != Node::Kind::string) return in.value(name);
  const std::optional<double> meant = degrees_by_compass(node->text, letters);
  if (!meant) return in.value(name);
  in.problem(name, fmt::format("{} has a letter of the compass{}", in_quotes(node->text),
                               hint(fmt::format("{:g}", *meant))));
  return std::nullopt;
}

/// The coordinates given, or those of the shipped place named.
std::optional<PointClimate> locate(Reading& reading, ObjectReader& in) {
  const std::string name = in.text("name");
  const std::optional<double> latitude = read_coordinate(in, "latitude", "ns");
  const std::optional<double> longitude = read_coordinate(in, "longitude", "ew");
  Place& place = reading.site.place;
  place.name = name;
  if (in.has("latitude") != in.has("longitude")) {
    const std::string_view missing = in.has("latitude") ? "longitude" : "latitude";
    if (!in.is_misspelled(missing)) {
      in.problem(missing, "is missing (latitude and longitude go together)");
    }
    return std::nullopt;
  }
  const std::optional<ClimateRow> named = name.empty() ? std::nullopt : find_place(name);
  if (in.has("latitude")) {
    if (!latitude || !longitude) return std::nullopt;
    place.latitude_deg = *latitude;
    place.longitude_deg = *longitude;
    if (named) {
      const double apart_km =
          distance_km(*latitude, *longitude, named->latitude_deg, named->longitude_deg);
      if (apart_km > kFarFromNamesake_km) {
        reading.assume(
            AssumptionKind::place,
            fmt::format("The site is at the latitude and longitude given; the shipped place called "
                        "{} is {:.0f} km away, so the name is only a label.",
                        name, apart_km));
      }
    }
    return climate_at(*latitude, *longitude);
  }
  if (named) {
    place.name = named->name;
    place.latitude_deg = named->latitude_deg;
    place.longitude_deg = named->longitude_deg;
    return climate_of(*named);
  }
  if (!in.has("name")) {
    if (in.is_misspelled("latitude") || in.is_misspelled("longitude")) return std::nullopt;
    in.problem("latitude",
               "is missing (give latitude and longitude, or the name of a shipped place)");
  } else if (!name.empty()) {
    in.problem("name", fmt::format("{} is not a shipped place{}", in_quotes(name),
                                   hint(likely_place(name), "give latitude and longitude")));
  }
  return std::nullopt;
}

std::optional<Monthly> read_insolation(ObjectReader& in) {
  const Node* node = in.member("insolation");
  if (node == nullptr || node->kind != Node::Kind::object) return in.monthly("insolation");
  std::optional<ObjectReader> object = in.object("insolation");
  const std::string_view unit = object->choice_word("unit");
  return unit.empty() ? std::nullopt : object->monthly("values", unit);
}

void read_climate(Reading& reading, ObjectReader& in, const std::optional<PointClimate>& climate) {
  Place& place = reading.site.place;
  const std::optional<Monthly> sun = read_insolation(in);
  const std::optional<Monthly> temperature = in.monthly("temperature");
  const std::optional<Monthly> rain = in.monthly("rain");
  if (!climate) return;
  std::string name = std::move(place.name);
  place = place_of(*climate, place.latitude_deg, place.longitude_deg);
  place.name = std::move(name);
  if (sun) place.sun_horizontal_kwh_m2_day = *sun;
  if (temperature) place.air_temp_c = *temperature;
  if (rain) place.rain_mm = *rain;
  ClimateOrigin& origin = place.climate;
  origin.own_sun = in.has("insolation");
  origin.own_temperature = in.has("temperature");
  origin.own_rain = in.has("rain");
  if (origin.own_sun) {
    origin.sun = "the site file";
    origin.distance_km = 0;
    origin.uncertainty_share = 0;
  }
  const std::optional<Assumption> shipped =
      shipped_climate(origin, {!origin.own_sun, !origin.own_temperature, !origin.own_rain});
  if (shipped) reading.site.assumptions.push_back(*shipped);
}

/// Where the clock of a site that gives none is taken from.
std::string clock_text(const Place& place) {
  const UsualClock clock = usual_clock(place.latitude_deg, place.longitude_deg);
  if (clock.zone.empty()) {
    return fmt::format("Clock taken as UTC {:+g} h, from the longitude: no town is near.",
                       clock.utc_offset_h);
  }
  const std::string away =
      clock.distance_km < 1 ? "" : fmt::format(", {:.0f} km away", clock.distance_km);
  return fmt::format(
      "Clock taken as UTC {:+g} h, standard time in summer too, as in the nearest town known "
      "({}{}); place.utc_offset gives another.",
      clock.utc_offset_h, clock.zone, away);
}

/// A height of its own moves the shipped temperature.
void read_elevation(Reading& reading, ObjectReader& in,
                    const std::optional<PointClimate>& climate) {
  Place& place = reading.site.place;
  const std::optional<double> elevation_m = in.value("elevation");
  if (!elevation_m) {
    if (climate && climate->cells > 0 && !place.climate.own_temperature) {
      reading.assume(
          AssumptionKind::shipped_climate,
          fmt::format("Air temperature is that of {:.0f} m above the sea, as the shipped "
                      "table has it there; place.elevation moves it to the site's.",
                      climate->temperature_height_m));
    }
    return;
  }
  if (!climate || place.climate.own_temperature) {
    place.elevation_m = *elevation_m;
    return;
  }
  const double before_c = place.air_temp_c[0];
  place = at_height(std::move(place), *climate, *elevation_m);
  reading.assume(
      AssumptionKind::shipped_climate,
      fmt::format("Air temperature moved by {:+.1f} K, from the {:.0f} m that the shipped "
                  "table stands for to the {:g} m given (6.5 K a km).",
                  place.air_temp_c[0] - before_c, climate->temperature_height_m, *elevation_m));
}

}  // namespace

void read_place(Reading& reading, ObjectReader& root) {
  std::optional<ObjectReader> in = root.object("place");
  if (!in) return;
  Place& place = reading.site.place;
  const std::optional<PointClimate> climate = locate(reading, *in);
  read_climate(reading, *in, climate);
  read_elevation(reading, *in, climate);
  place.albedo = in->value_or("albedo", place.albedo);
  place.record_low_c = in->value("record_low");
  place.day_spread_share = in->value("day_spread");
  place.utc_offset_h = in->value_or("utc_offset", place.utc_offset_h);
  if (climate && !in->has("utc_offset")) {
    reading.assume(AssumptionKind::clock, clock_text(place));
  }
}

}  // namespace amptally::io
