#include "sitefile/starter.hpp"

#include <fmt/format.h>

#include "amptally/climate.hpp"
#include "amptally/error.hpp"
#include "amptally/quantity.hpp"

#include "site/battery_words.hpp"
#include "sitefile/hint.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

constexpr std::string_view kBeforePlace = R"({
  "format": "amptally-site/1",
  "name": "My garden",
  "notes": "Change the figures to yours. Every quantity carries its unit; one you only know roughly is a range, \"300..400 mA\". Notes like this one may stand anywhere and are ignored. `amptally explain FIELD` says more about any field.",
  "place": {
)";

constexpr std::string_view kAfterPlace = R"(  },
  "panel": {
    "notes": "From the label. Tilt: 0 lies flat, 90 stands upright. Azimuth: the way it faces, 90 east, 180 south, 270 west; leave it out to face the equator.",
    "power": "20 W",
    "tilt": "45 deg"
  },
  "regulator": {
    "notes": "Standby is what it takes itself, day and night: the leaflet calls it self-consumption or no-load current. Below cutoff it switches the loads off.",
    "kind": "pwm",
    "standby": "10 mA",
    "cutoff": "11.1 V",
    "reconnect": "12.6 V"
  },
  "battery": {
    "notes": "Kind: )";

constexpr std::string_view kAfterBatteryKinds =
    R"(. Floor: how much of it you are willing to take out.",
    "kind": "agm",
    "voltage": "12 V",
    "capacity": "12 Ah",
    "floor": "50 %"
  },
  "loads": [
    {
      "notes": "Runs on the clock. Draw in A, mA or W.",
      "name": "pump",
      "draw": "600 mA",
      "runs": [{ "at": "06:30", "for": "10 min" }, { "at": "20:00", "for": "10 min" }]
    },
    {
      "notes": "For something without fixed hours: time a day, here only from April to October.",
      "name": "fan",
      "draw": "1.5 W",
      "per_day": "2 h",
      "when": "day",
      "months": "Apr-Oct"
    },
    {
      "notes": "Small, but on all the time: often the largest of all.",
      "name": "timer",
      "draw": "5 mA",
      "always": true
    }
  ],
  "wiring": [
    {
      "notes": "Length is one way; the way back is counted for you.",
      "feeds": "pump",
      "length": "5 m",
      "section": "0.75 mm2"
    }
  ],
  "aim": {
    "notes": "Days without sun that the battery is to bridge.",
    "autonomy": "3 days"
  }
}
)";

constexpr std::string_view kOwnClimate =
    "The monthly sun comes from the shipped tables. If you know better, add insolation: 12 "
    "values in kWh/m2/day, January first.";

std::string coordinates(double latitude_deg, double longitude_deg, std::string_view notes) {
  return fmt::format("    \"notes\": \"{}{}\",\n    \"latitude\": {},\n    \"longitude\": {}\n",
                     notes, kOwnClimate, latitude_deg, longitude_deg);
}

std::string place_members(std::string_view place) {
  if (place.empty()) return coordinates(43.38, -5.87, "Degrees north and east. ");
  if (const auto row = find_place(place)) {
    return fmt::format("    \"notes\": \"{}\",\n    \"name\": \"{}, {}\"\n", kOwnClimate, row->name,
                       row->country);
  }
  const std::size_t comma = place.find(',');
  try {
    const auto angle = [](std::string_view part, double most_deg) {
      const double value = parse_quantity(std::string(part) + " deg", Dimension::angle).middle;
      if (!(value >= -most_deg && value <= most_deg)) throw InputError("", "out of range");
      return value;
    };
    if (comma != place.npos) {
      return coordinates(angle(place.substr(0, comma), 90), angle(place.substr(comma + 1), 180),
                         "");
    }
  } catch (const InputError&) {
    // Said below: it is neither.
  }
  throw InputError("place",
                   fmt::format("{} is neither a shipped place nor LATITUDE,LONGITUDE in degrees{}",
                               in_quotes(place), hint(likely_place(place), "such as 43.38,-5.87")));
}

}  // namespace

std::string starter_site(std::string_view place) {
  return std::string(kBeforePlace) + place_members(place) + std::string(kAfterPlace) +
         any_of(battery_names()) + std::string(kAfterBatteryKinds);
}

}  // namespace amptally::io
