#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "cli/run.hpp"

namespace amptally::test {

/// What a run of the program left behind.
struct Ran {
  int status;
  std::string out;
  std::string err;
};

/// The whole program in this process: `ran({"budget", "-"}, site)`.
inline Ran ran(std::vector<std::string> words, const std::string& input = "",
               const cli::Terminal& terminal = {}) {
  std::vector<const char*> argv = {"amptally"};
  for (const std::string& word : words) argv.push_back(word.c_str());
  std::istringstream in(input);
  std::ostringstream out;
  std::ostringstream err;
  const int status = cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err, terminal);
  return {status, out.str(), err.str()};
}

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A sound site: no figure of it matters, only that the program has something to tell. Nothing in
/// it is rough: what a site with a range costs is 130 runs instead of two.
inline const std::string kSite = R"({
  "format": "amptally-site/1",
  "name": "Gijón | terrace",
  "place": { "latitude": 43.5, "longitude": -5.7 },
  "panel": { "power": "60 W", "tilt": "55 deg" },
  "regulator": { "kind": "pwm", "standby": "12 mA", "cutoff": "11.5 V" },
  "battery": { "kind": "agm", "capacity": "18 Ah" },
  "loads": [
    { "name": "misting pump", "draw": "2.2 A", "per_day": "20 min" },
    { "name": "controller", "draw": "15 mA", "always": true }
  ]
}
)";
inline std::string with_rough_draw(std::string site) {
  const std::string exact = R"("2.2 A")";
  return site.replace(site.find(exact), exact.size(), R"("2..2.4 A")");
}

/// The same, its pump's draw measured roughly.
inline const std::string kRoughSite = with_rough_draw(kSite);

}  // namespace amptally::test
