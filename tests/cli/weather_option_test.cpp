#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <stdlib.h>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "amptally/sun.hpp"

#include "catch.hpp"
#include "cli/program.hpp"
#include "report/budget.hpp"
#include "report/text.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;
using namespace amptally::test;
using Json = nlohmann::ordered_json;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Ran budget(std::vector<std::string> more, const cli::Terminal& terminal = {},
           const std::string& site = kSite) {
  more.insert(more.begin(), {"budget", "-"});
  return ran(more, site, terminal);
}

Json budget_json(std::vector<std::string> more, const std::string& site = kSite) {
  more.insert(more.end(), {"--format", "json"});
  return Json::parse(budget(more, {}, site).out);
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

/// Years of days, dull in the first half of each week: any sun will do that is physical.
std::string dull_weeks(int years, const std::string& head) {
  std::string text = head + "date,global_kwh_m2,air_temp_c\n";
  for (int year = 2017; year < 2017 + years; ++year) {
    for (int day = 1; day <= kDaysPerYear; ++day) {
      const int month = month_of_day(day);
      const double season = -std::cos(2 * std::numbers::pi * (day + 9) / kDaysPerYear);
      text += fmt::format("{}-{:02}-{:02},{:.2f},{:.1f}\n", year, month + 1,
                          day - first_day_of_month(month) + 1,
                          (3.5 + 2 * season) * (day % 7 < 3 ? 0.25 : 1), 12 + 7 * season);
    }
  }
  return text;
}

/// A weather file of its own, gone at the end.
class WeatherFile {
 public:
  explicit WeatherFile(const std::string& text) {
    std::string folder = (std::filesystem::temp_directory_path() / "amptally-XXXXXX").string();
    REQUIRE(::mkdtemp(folder.data()) != nullptr);
    folder_ = folder;
    std::ofstream(path()) << text;
  }
  WeatherFile(const WeatherFile&) = delete;
  WeatherFile& operator=(const WeatherFile&) = delete;
  ~WeatherFile() { std::filesystem::remove_all(folder_); }

  [[nodiscard]] std::string path() const { return (folder_ / "barn.csv").string(); }

 private:
  std::filesystem::path folder_;
};

// 11 km and 222 km north of kSite: a degree of latitude is 111.2 km.
constexpr const char* kNear =
    "# name: Barn\n# latitude: 43.6\n# longitude: -5.7\n# utc_offset: 1\n";
constexpr const char* kFar = "# name: Barn\n# latitude: 45.5\n# longitude: -5.7\n# utc_offset: 0\n";

}  // namespace

TEST_CASE("without a choice both weathers are run and both have to hold", "[cli][weather]") {
  const Ran both = budget({"--quiet"});
  CHECK(both.status == 0);
  CHECK(holds(both.out, "Holds in a mean year: "));
  CHECK(holds(both.out, "\n\nHolds in changeable weather: never short in 40 years.\n"));

  // A panel that carries the mean year, but not its dull spells.
  const std::vector<std::string> small = {"--quiet", "--set", "panel.power=9.5 W"};
  const auto with = [&small](const char* weather) {
    std::vector<std::string> words = small;
    words.insert(words.end(), {"--weather", weather});
    return budget(words);
  };
  CHECK(with("mean").status == 0);
  CHECK(with("synthetic").status == 1);
  const Ran mixed = budget(small);
  CHECK(mixed.status == 1);
  CHECK(mixed.out.substr(0, mixed.out.find("\n\n")) + "\n" == with("mean").out);
  CHECK(budget_json({"--set", "panel.power=9.5 W"})["verdict"] == "short");
  CHECK(budget_json({"--set", "panel.power=9.5 W"})["synthetic"]["verdict"] == "short");
}

TEST_CASE("mean year and synthetic years are each judged by their own aim", "[cli][weather]") {
  CHECK(budget_json({"--weather", "mean"})["aim"]["shortfall_days"] == 0);
  CHECK(budget_json({"--weather", "synthetic"})["aim"]["shortfall_days"] == 3);
  for (const char* weather : {"mean", "synthetic"}) {
    const Json own = budget_json({"--weather", weather, "--set", "aim.shortfall_days=7"});
    CHECK(own["aim"]["shortfall_days"] == 7);
  }
}

TEST_CASE("a chosen weather is run alone", "[cli][weather]") {
  const Ran mean = budget({"--weather", "mean"});
  CHECK_FALSE(holds(mean.out, "changeable"));
  CHECK(holds(mean.out, "balance per day; mean year)"));
  const Ran years = budget({"--weather", "synthetic", "--years", "12"});
  CHECK_FALSE(holds(years.out, "mean year"));
  CHECK(holds(years.out, "Weather  12 changeable years"));
  CHECK(holds(years.out, "balance per day; means of 12 years)"));
  CHECK(holds(years.out, "How the 12 changeable years differ"));
  CHECK(holds(years.out, "One year in ten  Middle  One year in ten"));
  CHECK(holds(years.out, "Deepest taken, %"));
  // Fewer than ten have no one in ten.
  CHECK_FALSE(holds(budget({"--weather", "synthetic", "--years", "5"}).out, "in ten"));
}

TEST_CASE("the mean year's figures do not depend on what is run beside it",
          "[cli][weather][json]") {
  Json both = budget_json({"--daily"}, kRoughSite);
  both.erase("synthetic");
  both.erase("rough");  // over the livelier weather
  Json alone = budget_json({"--daily", "--weather", "mean"}, kRoughSite);
  alone.erase("rough");
  CHECK(both == alone);
  CHECK(budget({"--format", "csv"}).out == budget({"--format", "csv", "--weather", "mean"}).out);
}

TEST_CASE("synthetic years are told alike beside the mean year and alone", "[cli][weather][json]") {
  const Json beside = budget_json({"--years", "12", "--seed", "5"});
  CHECK(beside["weather"] == Json({{"mode", "mean"}, {"years", 1}, {"seed", 1}}));
  CHECK(keys_of(beside["synthetic"]) ==
        std::vector<std::string>{"years", "seed", "verdict", "aim_met", "year", "spread"});
  const Json alone = budget_json({"--weather", "synthetic", "--years", "12", "--seed", "5"});
  CHECK(alone["weather"] == Json({{"mode", "synthetic"}, {"years", 12}, {"seed", 5}}));
  CHECK_FALSE(alone.contains("synthetic"));
  for (const char* key : {"verdict", "year", "spread"}) {
    CAPTURE(key);
    CHECK(alone[key] == beside["synthetic"][key]);
  }
  CHECK(keys_of(alone) == std::vector<std::string>{"schema", "program", "site", "place", "weather",
                                                   "verdict", "aim", "aim_met", "year", "months",
                                                   "spread", "uses", "findings", "assumptions",
                                                   "rough_inputs", "rough", "ledger"});
  CHECK(keys_of(alone["spread"]) == std::vector<std::string>{"shortfall_days", "shortfall_wh",
                                                             "deepest_discharge", "served_share",
                                                             "autonomy_days"});
  CHECK(keys_of(alone["spread"]["autonomy_days"]) == std::vector<std::string>{"p10", "p50", "p90"});
  // One year does not differ from itself.
  CHECK_FALSE(budget_json({"--years", "1"})["synthetic"].contains("spread"));
  CHECK_FALSE(budget_json({"--weather", "synthetic", "--years", "1"}).contains("spread"));
}

TEST_CASE("where nothing is drawn the spread of autonomy is null", "[cli][weather][json]") {
  const Json idle = budget_json({"--set", "loads=[]", "--set", "regulator.standby=0 A"});
  CHECK(idle["synthetic"]["spread"]["autonomy_days"]["p50"].is_null());
  CHECK(idle["synthetic"]["year"]["autonomy_days"].is_null());
}

TEST_CASE("months, year and ledger are means of the years", "[cli][weather][property]") {
  const Json years = budget_json({"--weather", "synthetic", "--years", "7", "--daily"});
  double charge_ah = 0;
  for (const Json& day : years["days"]) charge_ah += day["charge_ah"].get<double>();
  CHECK_THAT(years["year"]["charge_ah"].get<double>(), WithinRel(charge_ah, 1e-9));
  CHECK_THAT(years["ledger"]["charge_ah"].get<double>(), WithinRel(charge_ah, 1e-9));
}

TEST_CASE("the same seed gives the same bytes, another seed other figures", "[cli][weather]") {
  const auto seeded = [](const char* seed) {
    return budget({"--format", "json", "--years", "3", "--seed", seed}).out;
  };
  CHECK(seeded("7") == seeded("7"));
  CHECK(budget({"--format", "json", "--years", "3"}).out == seeded("1"));
  const Json one = Json::parse(seeded("1"))["synthetic"]["year"];
  const Json other = Json::parse(seeded("18446744073709551615"))["synthetic"]["year"];
  CHECK(one["charge_ah"] != other["charge_ah"]);
  CHECK(one["use_ah"] == other["use_ah"]);
}

TEST_CASE("the number of threads changes no byte", "[cli][weather]") {
  const Site site = *io::read_site(kSite, "site", {}).site;
  const Simulation prepared = prepare(site);
  const auto told = [&](int threads) {
    const Balance balance = simulate_prepared(
        site, prepared, {.mode = WeatherMode::synthetic, .years = 21, .threads = threads});
    const report::Budget budget{
        .site = site, .balance = balance, .findings = site_findings(site, prepared), .daily = true};
    return report::budget_report(budget, {.format = report::Format::json});
  };
  const std::string one = told(1);
  CHECK(one == told(2));
  CHECK(one == told(3));
}

TEST_CASE("options of weather that exclude each other cost one line and status 2",
          "[cli][weather][errors]") {
  struct Row {
    std::vector<std::string> words;
    const char* told;
  };
  const Row rows[] = {
      {{"--weather", "sythetic"}, "sythetic: no such file (did you mean synthetic?)"},
      {{"--weather", "no/such/barn.csv"}, "amptally: no/such/barn.csv: no such file\n"},
      {{"--weather", ""}, "--weather: the name of the file is empty"},
      {{"--weather"}, "--weather needs a value"},
      {{"--weather", "-"}, "cannot both be read from standard input"},
      {{"--weather", "mean", "--years", "3"}, "--years goes with synthetic weather; the mean year"},
      {{"--seed", "3", "--weather", "mean"}, "--seed goes with synthetic weather; the mean year"},
      {{"--weather", "barn.csv", "--years", "3"}, "--years goes with synthetic weather; a file"},
      {{"--weather", "barn.csv", "--seed", "3"}, "--seed goes with synthetic weather; a file"},
      {{"--years", "0"}, "--years: \"0\" is not a whole number in 1..1000"},
      {{"--years", "1001"}, "--years: \"1001\" is not a whole number in 1..1000"},
      {{"--years", "ten"}, "--years: \"ten\" is not a whole number"},
      {{"--years", "3.5"}, "--years: \"3.5\" is not a whole number"},
      {{"--seed", "-1"}, "--seed: \"-1\" is not a whole number in 0..18446744073709551615"},
      {{"--seed", "18446744073709551616"}, "is not a whole number in 0..18446744073709551615"},
  };
  for (const Row& row : rows) {
    const Ran bad = budget(row.words);
    CAPTURE(row.words, bad.err);
    CHECK(bad.status == 2);
    CHECK(bad.out.empty());
    CHECK(std::count(bad.err.begin(), bad.err.end(), '\n') == 1);
    CHECK(holds(bad.err, row.told));
  }
}

TEST_CASE("a weather file is run in place of the monthly figures", "[cli][weather]") {
  const WeatherFile file(dull_weeks(2, kNear));
  const Ran years = budget({"--weather", file.path()});
  CAPTURE(years.err);
  CHECK(years.status == 0);
  CHECK(years.out.starts_with("Holds in the weather on file: "));
  CHECK(holds(years.out, "sun from Barn (11 km from the site)"));
  CHECK(holds(years.out, "Weather  2 years of "));
  CHECK(holds(years.out, "means of 2 years)"));

  const Json json = budget_json({"--weather", file.path()});
  CHECK(json["weather"] ==
        Json({{"mode", "file"}, {"years", 2}, {"seed", 1}, {"file", file.path()}}));
  const Ran fit = ran({"fit", "-", "--load", "valve: 30 mA, 10 min/day", "--weather", file.path(),
                       "--format", "json"},
                      kSite);
  CHECK(Json::parse(fit.out)["weather"] == json["weather"]);
  CHECK(json["place"]["source"] == "Barn");
  CHECK(json["place"]["latitude_deg"] == 43.6);
  // A tenth of a degree on a sphere of 6371 km.
  CHECK_THAT(json["place"]["distance_km"].get<double>(), WithinAbs(11.12, 0.005));
  CHECK(json.contains("spread"));
  CHECK_FALSE(json.contains("synthetic"));
  // The years are alike, and what falls on the ground in them is what the file says.
  double sun_kwh_m2 = 0;
  std::istringstream rows(dull_weeks(1, ""));
  std::string row;
  std::getline(rows, row);
  while (std::getline(rows, row)) sun_kwh_m2 += std::stod(row.substr(11));
  CHECK_THAT(json["year"]["sun_horizontal_kwh_m2"].get<double>(), WithinRel(sun_kwh_m2, 1e-9));
}

TEST_CASE("a weather file's place and clock are told where they differ", "[cli][weather]") {
  const auto assumed = [](const std::string& head) {
    const WeatherFile file(dull_weeks(1, head));
    return budget_json({"--weather", file.path(), "--set", "place.utc_offset=0 h"})["assumptions"]
        .dump();
  };
  const std::string near = assumed(kNear);
  CHECK(holds(near, "The sun and the temperatures of Barn are taken instead of monthly figures."));
  CHECK(holds(near, "The weather is that of Barn, 11 km from the site; the sun is reckoned"));
  CHECK(holds(near, "by the weather file's clock, UTC +1 h, not the site's, UTC +0 h."));
  const std::string far = assumed(kFar);
  CHECK(holds(far, "222 km from the site: its dull spells need not be the site's."));
  CHECK_FALSE(holds(far, "clock"));
  const std::string nowhere = assumed("# name: Barn\n");
  CHECK(holds(nowhere, "Barn does not say where it was recorded: taken to be at the site"));
}

TEST_CASE("a weather file takes back what was said of the figures it replaces, and no more",
          "[cli][weather]") {
  // The sentence on the shipped table, "" where there is none.
  const auto shipped = [](std::vector<std::string> words, bool has_air) {
    std::string text = dull_weeks(1, "# name: Barn\n");
    if (!has_air) {
      std::istringstream rows(text);
      text.clear();
      for (std::string row; std::getline(rows, row);) {
        text += row.substr(0, row.starts_with('#') ? row.size() : row.rfind(',')) + '\n';
      }
    }
    const WeatherFile file(text);
    words.insert(words.end(), {"--weather", file.path()});
    std::string found;
    const Json json = budget_json(words);
    for (const Json& said : json["assumptions"]) {
      if (holds(said.get<std::string>(), "shipped table")) found += said.get<std::string>();
    }
    return found;
  };
  const std::vector<std::string> all = {"--set", "place={\"name\": \"Lisbon\"}"};
  CHECK(shipped(all, true) == "Monthly rain from the shipped table for Lisbon.");
  CHECK(shipped(all, false) == "Monthly temperature and rain from the shipped table for Lisbon.");
  const std::string sun = "\"insolation\": [2,2,3,4,5,5,5,5,4,3,2,2]";
  const std::string rain = "\"rain\": [90,90,90,90,90,90,90,90,90,90,90,90]";
  const std::vector<std::string> own_sun = {"--set", "place={\"name\": \"Lisbon\", " + sun + "}"};
  CHECK(shipped(own_sun, true) == "Monthly rain from the shipped table for Lisbon.");
  CHECK(shipped(own_sun, false) ==
        "Monthly temperature and rain from the shipped table for Lisbon.");
  const std::vector<std::string> own_rain = {"--set", "place={\"name\": \"Lisbon\", " + rain + "}"};
  CHECK(shipped(own_rain, true).empty());
  CHECK(shipped(own_rain, false) == "Monthly temperature from the shipped table for Lisbon.");
}

TEST_CASE("a weather file may come through standard input", "[cli][weather]") {
  const Ran piped = ran({"budget", "--demo", "--weather", "-", "--quiet"}, dull_weeks(1, ""));
  CAPTURE(piped.err);
  CHECK(piped.status <= 1);
  CHECK(holds(piped.out, "in the weather on file"));
}

TEST_CASE("a mistake in a weather file is told with its line", "[cli][weather][errors]") {
  std::string text = dull_weeks(1, kNear);
  text.replace(text.find("2017-01-03,"), 11, "2017-01-04,");
  const WeatherFile file(text);
  const Ran bad = budget({"--weather", file.path()});
  CHECK(bad.status == 2);
  CHECK(bad.out.empty());
  CHECK(std::count(bad.err.begin(), bad.err.end(), '\n') == 1);
  CHECK(holds(bad.err, file.path() + ":8: "));
}

TEST_CASE("the charge is drawn where it can be shown, and nowhere else", "[cli][chart]") {
  const auto draws = [](std::vector<std::string> more, const cli::Terminal& on) {
    return holds(budget(std::move(more), on).out, "█");
  };
  const cli::Terminal screen = {.is_terminal = true};
  CHECK(draws({}, screen));
  CHECK(draws({}, {.is_terminal = true, .columns = 60}));
  CHECK_FALSE(draws({}, {.is_terminal = true, .columns = 59}));
  CHECK_FALSE(draws({}, {.is_terminal = true, .utf8 = false}));
  CHECK_FALSE(draws({}, {}));  // a pipe
  CHECK_FALSE(draws({"--no-chart"}, screen));
  CHECK_FALSE(draws({"--quiet"}, screen));
  CHECK_FALSE(draws({"--color", "always"}, {}));
  for (const char* format : {"json", "csv", "md"}) {
    CHECK_FALSE(draws({"--format", format}, screen));
  }
  const Ran narrow = budget({}, {.is_terminal = true, .columns = 60});
  std::istringstream lines(narrow.out);
  for (std::string line; std::getline(lines, line);) {
    if (holds(line, "█")) CHECK(report::display_width(line) <= 60);
  }
}

TEST_CASE("the drawing of the charge says what it shows", "[cli][chart]") {
  const cli::Terminal screen = {.is_terminal = true, .columns = 100};
  const char* const each = "Charge left over the year, each column its lowest day";
  const auto caption = [&](std::vector<std::string> more, const std::string& end) {
    return holds(budget(std::move(more), screen).out, each + end + ":\n");
  };
  CHECK(caption({}, "; one changeable year in ten goes below this"));
  CHECK(caption({"--weather", "synthetic"}, "; one changeable year in ten goes below this"));
  CHECK(caption({"--weather", "synthetic", "--years", "4"}, "; near the lowest of the 4 years"));
  CHECK(caption({"--weather", "mean"}, ""));
}
