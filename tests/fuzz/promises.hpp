#pragma once

#include <span>
#include <string>
#include <string_view>

#include "amptally/site.hpp"

#include "sitefile/problem.hpp"
#include "sitefile/site_reader.hpp"

/// What holds of every input that is taken, and of every message about one that is not.
namespace amptally::fuzz {

/// A sound site, to which settings and loads are added.
inline constexpr std::string_view kGoodSite = R"({
  "format": "amptally-site/1",
  "name": "Any",
  "place": { "latitude": 43.5, "longitude": -5.7 },
  "panel": { "power": "60 W", "tilt": "55 deg" },
  "regulator": { "kind": "pwm", "standby": "12 mA", "cutoff": "11.5 V" },
  "battery": { "kind": "agm", "capacity": "18 Ah" },
  "loads": [
    { "name": "pump", "draw": "2..2.4 A", "per_day": "20 min" },
    { "name": "controller", "draw": "15 mA", "always": true }
  ],
  "wiring": [{ "name": "cable", "feeds": "pump", "length": "9 m", "section": "1.5 mm2" }],
  "water": {
    "tank": { "volume": "160 L" },
    "lines": [{ "name": "bench", "pump": { "flow": "240 L/h", "head": "3 m" },
                "demand": { "plants": 12, "each": "0.5 L" } }]
  }
})";

/// @throws std::logic_error saying `promise`, unless it is kept
void require(bool kept, const std::string& promise);

void require_finite(double value, const std::string& what);

/// A message is one line, which says something.
void require_message(const std::string& message);

/// The same of all; and a site is given or problems are, never both or neither.
void require_answer(const io::ReadResult& result);

/// Two readings say the same problems, or give sites with the same year.
void require_same(const io::ReadResult& one, const io::ReadResult& other);

/// The numbers of a site that was read are finite and in the ranges that its header gives.
void require_in_range(const Site& site);

/// The site's year in mean weather can be reckoned, in finite figures, and so can its water and its
/// wiring; or `ModelError` or `InputError` says why not.
void require_year(const Site& site);

}  // namespace amptally::fuzz
