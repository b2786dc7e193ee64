#include <algorithm>
#include <array>
#include <cctype>
#include <string>
#include <string_view>
#include <vector>

#include "catch.hpp"
#include "cli/program.hpp"
#include "random_site.hpp"

// Whatever the site, no figure is printed that is none: no "nan", no "inf", no minus before a zero.

using namespace amptally;
using namespace amptally::test;

namespace {

bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }
bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }
char at(const std::string& text, std::size_t i) { return i < text.size() ? text[i] : ' '; }

/// Whether `word` stands at `i` by itself, in any case: "inf" in "12 inf", not in "information".
bool is_word(const std::string& text, std::size_t i, std::string_view word) {
  if (i > 0 && is_letter(text[i - 1])) return false;
  for (std::size_t k = 0; k < word.size(); ++k) {
    if (std::tolower(static_cast<unsigned char>(at(text, i + k))) != word[k]) return false;
  }
  return !is_letter(at(text, i + word.size()));
}

/// Whether a zero with a minus before it stands at `i`: "-0", "-0.00", also with the sign in print,
/// but not "-0.01", "2-0" nor "1e-05".
bool is_minus_zero(const std::string& text, std::size_t i) {
  constexpr std::string_view kMinusSign = "\u2212";
  std::size_t k = i;
  if (text[i] == '-') {
    k += 1;
  } else if (text.compare(i, kMinusSign.size(), kMinusSign) == 0) {
    k += kMinusSign.size();
  } else {
    return false;
  }
  const char before = i > 0 ? text[i - 1] : ' ';
  if (is_digit(before) || is_letter(before) || before == '.' || before == ')') return false;
  if (at(text, k) != '0') return false;
  while (at(text, k) == '0') ++k;
  if (at(text, k) == '.' && is_digit(at(text, k + 1))) {
    for (++k; at(text, k) == '0';) ++k;
  }
  return !is_digit(at(text, k)) && !is_letter(at(text, k));
}

/// The first figure that is none, with what stands around it; empty where all is well.
std::string no_number(const std::string& text) {
  // What such a figure can begin with; the second is the first byte of the sign in print.
  constexpr std::string_view kBegins = "-\xE2nNiI";
  for (std::size_t i = text.find_first_of(kBegins); i != std::string::npos;
       i = text.find_first_of(kBegins, i + 1)) {
    if (is_minus_zero(text, i) || is_word(text, i, "nan") || is_word(text, i, "inf") ||
        is_word(text, i, "infinity")) {
      return text.substr(i < 60 ? 0 : i - 60, 120);
    }
  }
  return {};
}

using Words = std::vector<std::string>;

constexpr std::array<const char*, 4> kFormats = {"table", "json", "csv", "md"};

/// Runs one command and says what is wrong with what it printed; empty where nothing is.
std::string fault_of(const Words& words, const std::string& site) {
  const Ran run = ran(words, site);
  const std::string told = " (status " + std::to_string(run.status) + "): ";
  if (run.status != 0 && run.status != 1 && run.status != 2) return "status" + told + run.err;
  if (run.status == 2 && run.err.empty() && run.out.empty()) return "refused without a word";
  if (run.status != 2 && run.out.empty()) return "nothing printed" + told + run.err;
  const std::string figure = no_number(run.out + "\n" + run.err);
  return figure.empty() ? "" : "printed" + told + figure;
}

const std::vector<Words> kQuick = {
    {"budget", "-", "--weather", "mean"},
    {"budget", "-", "--weather", "mean", "--daily"},
    {"budget", "-", "--weather", "synthetic", "--years", "2"},
    {"sun", "-"},
    {"sun", "-", "--tilts"},
    {"water", "-"},
    {"wiring", "-"},
    {"check", "-"},
    {"fit", "-", "--weather", "mean", "--load", "valve: 300 mA, 20 min/day"},
    {"sweep", "-", "--weather", "mean", "--vary", "panel.power=0,1,1000", "--vary",
     "battery.capacity=1,100"},
};
const std::vector<Words> kSlow = {
    {"budget", "-", "--years", "2"},
    {"size", "-", "--weather", "mean"},
    {"levers", "-", "--weather", "mean"},
    {"report", "-", "--years", "2"},
};

/// How much is run of all the commands in all the formats.
enum class Some {
  third,       ///< a command in three, each in one format, others at the next turn
  one_format,  ///< each command
  all_formats,
};

void run_all(const std::vector<Words>& commands, const std::string& site, std::size_t turn,
             Some some) {
  for (std::size_t c = 0; c < commands.size(); ++c) {
    if (some == Some::third && (turn + c) % 3 != 0) continue;
    Words words = commands[c];
    if (words[0] == "report") {
      INFO(words[0]);
      REQUIRE(fault_of(words, site) == "");
      continue;
    }
    for (std::size_t f = 0; f < kFormats.size(); ++f) {
      if (some != Some::all_formats && f != (turn / 3 + c) % kFormats.size()) continue;
      Words in_format = words;
      in_format.insert(in_format.end(), {"--format", kFormats[f]});
      std::string line;
      for (const std::string& word : in_format) line += word + " ";
      INFO("amptally " << line);
      REQUIRE(fault_of(in_format, site) == "");
    }
  }
}

}  // namespace

TEST_CASE("the search for nan, inf and minus zero finds those and nothing else", "[cli]") {
  for (const char* bad : {"nan", "x: -nan V", "NaN", "[inf]", "-inf,", "Infinity", "-0",
                          "a -0.00 V", "(-0.0)", "[1,-0]", "\u22120 W", "-0 %"}) {
    CAPTURE(bad);
    CHECK_FALSE(no_number(bad).empty());
  }
  for (const char* good : {"information", "finance", "-0.01", "-0.5 %/K", "1e-05", "2026-01-02",
                           "10-0", "0", "0.0", "-10", "x-0", "Fernando"}) {
    CAPTURE(good);
    CHECK(no_number(good).empty());
  }
}

namespace {

// A part of the site file each; what is not named is as in `kOrdinary`.
struct Extreme {
  std::string name;
  std::string place;
  std::string panel;
  std::string battery;
  std::string loads;
  std::string more;
};

const Extreme kOrdinary = {"an ordinary site",
                           R"("latitude": 43.5, "longitude": -5.7)",
                           R"("power": "60 W", "tilt": "55 deg")",
                           R"("kind": "agm", "capacity": "18 Ah")",
                           R"({ "name": "pump", "draw": "2 A", "per_day": "20 min" })",
                           R"("regulator": { "kind": "pwm", "standby": "12 mA" })"};

std::string file_of(const Extreme& extreme) {
  const auto part = [&](const std::string Extreme::*member) {
    return (extreme.*member).empty() ? kOrdinary.*member : extreme.*member;
  };
  return R"({ "format": "amptally-site/1", "name": ")" + extreme.name + R"(", "place": { )" +
         part(&Extreme::place) + R"( }, "panel": { )" + part(&Extreme::panel) +
         R"( }, "battery": { )" + part(&Extreme::battery) + R"( }, "loads": [)" +
         part(&Extreme::loads) + "], " + part(&Extreme::more) + " }";
}

const std::string kNorthSun = R"(, "insolation": [0, 0, 0.2, 2.6, 6, 7, 6.5, 4, 0.9, 0, 0, 0])";
const std::string kSouthSun = R"(, "insolation": [7, 3.5, 0.9, 0, 0, 0, 0, 0, 0.1, 2, 6, 7.5])";
const std::string kNothing = R"("regulator": { "kind": "none" })";
const std::string kWatering = R"({ "name": "pump", "draw": "2 A", "from_water": "bed" })";

std::string watering(const std::string& tank, const std::string& demand, const std::string& lift) {
  return R"("water": { "tank": { )" + tank +
         R"( }, "lines": [{ "name": "bed", "pump": { "flow": "100 L/h", "head": "10 m" }, )" +
         R"("tube": { "length": "1 mm", "bore": "1000 mm" }, "lift": ")" + lift +
         R"(", "demand": ")" + demand + R"(" }] })";
}

const std::vector<Extreme> kExtremes = {
    kOrdinary,
    {"90 degrees north", R"("latitude": 90, "longitude": 0)" + kNorthSun, "", "", "", ""},
    {"90 degrees south", R"("latitude": -90, "longitude": 180)" + kSouthSun, "", "", "", ""},
    {"polar night", R"("latitude": 75, "longitude": 20)" + kNorthSun, "", "", "", ""},
    {"no sun at all", R"("latitude": 40, "longitude": 0, "insolation": [0,0,0,0,0,0,0,0,0,0,0,0])",
     "", "", "", ""},
    {"no loads", "", "", "", " ", ""},
    {"no loads, no standby", "", "", "", " ", kNothing},
    {"no panel", "", R"("power": "0 W")", "", "", ""},
    {"no panel, no loads, nothing", "", R"("power": "0 W")", "", " ", kNothing},
    {"a panel all loss", "", R"("power": "60 W", "losses": "100 %")", "", "", ""},
    {"a panel facing away", "", R"("power": "60 W", "tilt": "90 deg", "azimuth": "0 deg")", "", "",
     ""},
    {"100 kW", "", R"("power": "100000 W", "count": 100)", "", "", ""},
    {"walled in", "",
     R"("power": "60 W", "shade": [{ "azimuth": "0..359.9 deg", "elevation": "90 deg" }])", "", "",
     ""},
    {"1 mAh", "", "", R"("kind": "lifepo4", "capacity": "1 mAh")", "", ""},
    {"1 MAh", "", "", R"("kind": "flooded", "capacity": "100000 Ah", "parallel": 10)", "", ""},
    {"frozen lithium",
     R"("latitude": 60, "longitude": 90, "temperature": [-60,-60,-60,-60,-60,-60,-60,-60,-60,-60,-60,-60])",
     "", R"("kind": "lifepo4", "capacity": "18 Ah")", "", ""},
    {"empty and worn out", "", "",
     R"("kind": "gel", "capacity": "18 Ah", "health": "1 %", "start": "0 %")", "", ""},
    {"a load larger than the battery", "", "", "",
     R"({ "name": "pump", "draw": "900 A", "always": true, "count": 10 })", ""},
    {"loads that never run", "", "", "",
     R"({ "name": "pump", "draw": "2 A", "per_day": "0 min" }, { "name": "off", "draw": "0 A", "always": true })",
     ""},
    {"a tank of a cup", "", "", "", kWatering, watering(R"("volume": "0.2 L")", "50 L", "0 m")},
    {"a tank of a pond", "", "", "", kWatering,
     watering(R"("volume": "1000000 L", "level": "100 m")", "1 L", "0 m")},
    {"a tank that siphons empty", "", "", "", kWatering,
     watering(R"("volume": "100 L", "level": "1 m", "roof": "3 m2")", "40 L", "-99 cm")},
    {"no demand", "", "", "", kWatering, watering(R"("volume": "100 L")", "0 L", "0 m")},
    {"a pump all day", "", "", "", kWatering, watering(R"("volume": "100 L")", "2399.99 L", "0 m")},
    {"a pump too small", "", "", "", kWatering, watering(R"("volume": "100 L")", "2401 L", "0 m")},
    {"a pump at its head", "", "", "", kWatering, watering(R"("volume": "100 L")", "1 L", "10 m")},
};

}  // namespace

TEST_CASE("no command prints nan, inf or minus zero for sites of chance", "[cli][property]") {
  const std::vector<std::uint64_t> seeds = testing::seeds_to_run(200);
  for (std::size_t i = 0; i < seeds.size(); ++i) {
    const testing::RandomSite made = testing::random_site_file(seeds[i]);
    INFO("seed " << seeds[i] << ", site:\n" << made.text);
    run_all(kQuick, made.text, i, Some::third);
    if (i % 20 == 0) run_all(kSlow, made.text, i / 20, Some::third);
  }
}

TEST_CASE("no command prints nan, inf or minus zero for sites at the limits of their fields",
          "[cli][extremes]") {
  const bool few = testing::site_count(1000) < 100;  // where each takes long, as with sanitizers
  for (std::size_t i = 0; i < kExtremes.size(); ++i) {
    const std::string site = file_of(kExtremes[i]);
    INFO(site);
    run_all({kQuick[0]}, site, 0, Some::all_formats);
    run_all(kQuick, site, 3 * i, few ? Some::third : Some::one_format);
    if (!few || i % 3 == 0) run_all(kSlow, site, i, Some::third);
  }
}

TEST_CASE("of the sites at the limits of their fields only those without enough water are refused",
          "[cli][extremes]") {
  for (const Extreme& extreme : kExtremes) {
    const bool refused = extreme.name == "a pump too small" || extreme.name == "a pump at its head";
    CAPTURE(extreme.name);
    const Ran run = ran({"budget", "-", "--weather", "mean"}, file_of(extreme));
    CHECK((run.status == 2) == refused);
  }
}

TEST_CASE("a site without a panel's power, or whose climate table is far off, is refused in a line",
          "[cli][extremes][errors]") {
  Extreme powerless = kOrdinary;
  powerless.panel = R"("tilt": "55 deg")";
  CHECK(holds(ran({"budget", "-"}, file_of(powerless)).err, "panel.power: is missing"));
  // Regression, 25 Nov 2026: the sun of Tierra del Fuego shone at the pole, four times what reaches
  // the top of the air there.
  Extreme pole = kOrdinary;
  pole.place = R"("latitude": -89.5, "longitude": -70)";
  const Ran run = ran({"budget", "-"}, file_of(pole));
  CHECK(run.status == 2);
  CHECK(holds(run.err,
              "place.insolation: the shipped table for 55\u00b0 S, 70\u00b0 W, 3836 km away, has"));
}
