#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "cli/program.hpp"

using namespace amptally::test;
using Json = nlohmann::ordered_json;

namespace {

/// `sweep - WORDS` over the site of the tests.
Ran sweep(const std::vector<std::string>& more, const amptally::cli::Terminal& terminal = {},
          const std::string& site = kSite) {
  std::vector<std::string> words = {"sweep", "-"};
  words.insert(words.end(), more.begin(), more.end());
  return ran(words, site, terminal);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::vector<Json> records(const Ran& run) {
  std::vector<Json> all;
  for (const std::string& line : lines_of(run.out)) all.push_back(Json::parse(line));
  return all;
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

using Words = std::vector<std::string>;

const Words kMean = {"--weather", "mean", "--quiet"};

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

}  // namespace

TEST_CASE("a sweep's record is one line: what varies, the verdict, the year", "[cli][sweep]") {
  const Ran run =
      sweep(with(kMean, {"--vary", "battery.capacity=7..40:33", "--vary",
                         "loads[misting pump].draw=300 mA", "--vary", "regulator.kind=pwm,mppt"}));
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  const std::vector<Json> all = records(run);
  REQUIRE(all.size() == 4);
  CHECK(all[0]["battery.capacity"] == 7);
  CHECK(all[0]["loads[misting pump].draw"] == 0.3);
  CHECK(all[0]["regulator.kind"] == "pwm");
  CHECK(all[1]["regulator.kind"] == "mppt");
  CHECK(all[3]["battery.capacity"] == 40);

  const Json budget = Json::parse(ran({"budget", "-", "--format", "json"}, kSite).out);
  Words expected = {"battery.capacity", "loads[misting pump].draw", "regulator.kind", "verdict"};
  for (const std::string& key : keys_of(budget["year"])) {
    if (key != "battery_life_years") expected.push_back(key);
  }
  expected.push_back("missed");
  for (const Json& record : all) CHECK(keys_of(record) == expected);
}

TEST_CASE("a sweep's record has the figures that budget has for these settings", "[cli][sweep]") {
  struct Row {
    Words settings;
    Words weather;
  };
  const Row rows[] = {
      {{"battery.capacity=7 Ah", "panel.power=8 W"}, {"mean"}},
      {{"battery.capacity=7 Ah", "panel.power=8 W"}, {"synthetic", "--years", "3"}},
      {{"panel.tilt=20 deg", "panel.azimuth=90 deg"}, {"synthetic", "--years", "2"}},
      {{"place.latitude=-33", "place.longitude=18.4"}, {"synthetic", "--years", "2"}},
      {{"regulator.kind=mppt", "regulator.standby=1 W"}, {"synthetic", "--years", "2"}},
      {{"battery.kind=lifepo4", "battery.floor=70 %"}, {"mean"}},
      {{"loads[misting pump].per_day=2 h", "loads[controller].months=Oct-Apr"},
       {"synthetic", "--years", "2", "--seed", "9"}},
      {{"loads[misting pump].draw=3..5 A"}, {"mean"}},
  };
  for (const Row& row : rows) {
    Words one = {"--weather"};
    Words many = {"--quiet", "--weather"};
    for (const std::string& word : row.weather) {
      one.push_back(word);
      many.push_back(word);
    }
    for (const std::string& setting : row.settings) {
      one.insert(one.end(), {"--set", setting});
      // A list, as a lone range would want its step.
      many.insert(many.end(), {"--vary", setting + "," + setting.substr(setting.find('=') + 1)});
    }
    CAPTURE(row.settings, row.weather);
    const Ran swept = sweep(many);
    REQUIRE(swept.status == 0);
    const Json record = records(swept).front();
    const Json budget = Json::parse(ran(with({"budget", "-", "--format", "json"}, one), kSite).out);
    CHECK(record["verdict"] == budget["verdict"]);
    for (const auto& [key, value] : budget["year"].items()) {
      if (key == "battery_life_years") continue;
      CAPTURE(key);
      REQUIRE(record.contains(key));
      CHECK(record[key] == value);  // to the last bit
    }
  }
}

TEST_CASE("a sweep runs in weather from a file as budget does", "[cli][sweep]") {
  const std::string file =
      (std::filesystem::temp_directory_path() / "amptally-sweep-weather.csv").string();
  {
    std::ofstream weather(file);
    weather << "# latitude: 43\n# longitude: -6\n# utc_offset: 0\ndate,global_kwh_m2\n";
    constexpr int kDays[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    for (int month = 0; month < 12; ++month) {
      for (int day = 1; day <= kDays[month]; ++day) {
        weather << "2019-" << (month < 9 ? "0" : "") << month + 1 << (day < 10 ? "-0" : "-") << day
                << ',' << 1.2 + 0.6 * std::min(month, 11 - month) + day % 3 * 0.2 << '\n';
      }
    }
  }
  const Ran swept = sweep({"--quiet", "--weather", file, "--vary", "battery.capacity=6,9"});
  REQUIRE(swept.status == 0);
  for (const Json& record : records(swept)) {
    const Json budget =
        Json::parse(ran({"budget", "-", "--weather", file, "--format", "json", "--set",
                         "battery.capacity=" + record["battery.capacity"].dump()},
                        kSite)
                        .out);
    CHECK(record["verdict"] == budget["verdict"]);
    for (const char* key : {"sun_panel_kwh_m2", "deepest_discharge", "shortfall_wh"}) {
      CHECK(record[key] == budget["year"][key]);
    }
  }
  std::filesystem::remove(file);
}

TEST_CASE("a sweep says which aims are missed, in the words of budget", "[cli][sweep]") {
  // Regression, 28 Nov 2026: "short" stood where only the floor was passed.
  const Words axes =
      with(kMean, {"--vary", "battery.floor=1%,50%", "--vary", "aim.autonomy=0 days,300 days",
                   "--vary", "panel.power=60 W,1 W"});
  std::set<std::string> seen;
  for (const Json& record : records(sweep(axes))) {
    CHECK((record["verdict"] == "holds") == record["missed"].empty());
    CHECK((record["shortfall_days"] > 0) ==
          (!record["missed"].empty() && record["missed"][0] == "shortfall"));
    for (const Json& word : record["missed"]) seen.insert(word.get<std::string>());
  }
  CHECK(seen == std::set<std::string>{"shortfall", "floor", "autonomy"});
  const std::string table = sweep(with(axes, {"--format", "table"})).out;
  for (const char* words : {"holds", "runs short", "goes too deep", "too little in store"}) {
    CAPTURE(words, table);
    CHECK(holds(table, words));
  }
}

TEST_CASE("a sweep gives the battery's life when it is asked for", "[cli][sweep]") {
  const Words words = with(kMean, {"--life", "--vary", "battery.capacity=8,12"});
  const std::vector<Json> all = records(sweep(words));
  for (const Json& record : all) {
    const std::string setting = "battery.capacity=" + record["battery.capacity"].dump();
    const Json budget = Json::parse(
        ran({"budget", "-", "--format", "json", "--weather", "mean", "--set", setting}, kSite).out);
    CHECK(record["battery_life_years"] == budget["year"]["battery_life_years"]);
    CHECK(keys_of(record).size() == keys_of(budget["year"]).size() + 3);
  }
  CHECK(holds(sweep(with(words, {"--format", "csv"})).out, ",battery_life_years,"));
}

TEST_CASE("a sweep's CSV says the same as its JSON, units in the names", "[cli][sweep]") {
  const Words axes =
      with(kMean, {"--vary", "battery.capacity=7,12", "--vary",
                   "loads[misting pump].draw=300..400mA:50", "--vary", "regulator.kind=pwm"});
  const std::vector<Json> all = records(sweep(axes));
  const auto rows = lines_of(sweep(with(axes, {"--format", "csv"})).out);
  REQUIRE(rows.size() == all.size() + 1);
  CHECK(
      rows[0].starts_with("battery.capacity_ah,loads[misting pump].draw_a,regulator.kind,"
                          "verdict,sun_horizontal_kwh_m2,"));
  CHECK(rows[0].ends_with(",short_year_share,missed,error"));
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::istringstream row(rows[i + 1]);
    for (const auto& [key, value] : all[i].items()) {
      CAPTURE(i, key);
      std::string cell;
      std::getline(row, cell, ',');
      if (value.is_null()) {
        CHECK(cell.empty());
      } else if (value.is_string()) {
        CHECK(cell == value);
      } else if (value.is_array()) {
        std::string words;
        for (const Json& word : value)
          words += (words.empty() ? "" : " ") + word.get<std::string>();
        CHECK(cell == words);
      } else {
        CHECK(Json::parse(cell).get<double>() == value.get<double>());
      }
    }
    CHECK(rows[i + 1].ends_with(','));  // no error
  }
}

TEST_CASE("the shards of a sweep joined are the whole sweep, byte for byte", "[cli][sweep]") {
  const Words axes[] = {
      {"--vary", "battery.capacity=7..23 Ah:2", "--vary", "regulator.kind=pwm,mppt"},
      {"--vary", "battery.capacity=7..40 Ah", "--vary", "panel.tilt=0..90", "--random", "11",
       "--seed", "5"}};
  for (const Words& words : axes) {
    for (const char* format : {"json", "csv"}) {
      const Words one =
          with(words, {"--weather", "synthetic", "--years", "1", "--quiet", "--format", format});
      const std::string whole = sweep(one).out;
      REQUIRE_FALSE(whole.empty());
      for (const int of : {1, 3, 30}) {
        std::string joined;
        for (int part = 1; part <= of; ++part) {
          joined +=
              sweep(with(one, {"--shard", std::to_string(part) + "/" + std::to_string(of)})).out;
        }
        CHECK((joined == whole));
      }
    }
  }
}

TEST_CASE("a random sweep gives the same records for the same seed", "[cli][sweep]") {
  const auto drawn = [](const char* seed) {
    return sweep(with(kMean,
                      {"--vary", "battery.capacity=7..40 Ah", "--random", "3", "--seed", seed}))
        .out;
  };
  CHECK(drawn("1") == drawn("1"));
  CHECK(drawn("1") != drawn("2"));
  CHECK(sweep(with(kMean, {"--vary", "battery.capacity=7..40 Ah", "--random", "3"})).out ==
        drawn("1"));
}

TEST_CASE("a combination that cannot be read has a record with its problem, in its place",
          "[cli][sweep][errors]") {
  const Words axes = {"--weather", "mean",
                      "--set",     "regulator.reconnect=12.5 V",
                      "--vary",    "regulator.cutoff=11,13,12 V"};
  const Ran run = sweep(with(axes, {"--quiet"}));
  CHECK(run.status == 2);
  const std::vector<Json> all = records(run);
  REQUIRE(all.size() == 3);
  CHECK(all[0].contains("verdict"));
  CHECK(keys_of(all[1]) == Words{"regulator.cutoff", "error"});
  CHECK(all[1]["error"] == "regulator.reconnect: 12.5 V is not above cutoff, 13 V");
  CHECK(all[2].contains("verdict"));
  CHECK(run.err ==
        "amptally: 1 of 3 records could not be run; the first: regulator.reconnect: 12.5 V is not "
        "above cutoff, 13 V\n");

  const auto rows = lines_of(sweep(with(axes, {"--format", "csv", "--quiet"})).out);
  REQUIRE(rows.size() == 4);
  CHECK(rows[2].starts_with("13,,,"));
  CHECK(rows[2].ends_with(",\"regulator.reconnect: 12.5 V is not above cutoff, 13 V\""));
  CHECK(std::count(rows[2].begin(), rows[2].end(), ',') ==
        std::count(rows[0].begin(), rows[0].end(), ',') + 1);  // one in the quoted message

  const Ran table = sweep(with(axes, {"--format", "table", "--quiet"}));
  CHECK(table.status == 2);
  CHECK(holds(table.out, "not run"));
  CHECK(holds(table.out, "- regulator.reconnect: 12.5 V is not above cutoff, 13 V"));
}

TEST_CASE("a combination that fails only when run has a record with its problem, in its place",
          "[cli][sweep][errors]") {
  // More sun than the top of the air gets, in December and in the north alone.
  const Ran run = sweep(with(kMean, {"--set", "place.insolation=[2,3,4,5,6,6,6,5,4,3,2,2]",
                                     "--vary", "place.latitude=40,70,42"}));
  CHECK(run.status == 2);
  const std::vector<Json> all = records(run);
  REQUIRE(all.size() == 3);
  CHECK(all[0].contains("verdict"));
  CHECK(holds(all[1]["error"], "place.insolation"));
  CHECK(all[2].contains("verdict"));
}

TEST_CASE("a sweep finds mistakes of its options before the first record", "[cli][sweep][errors]") {
  struct Row {
    Words words;
    const char* told;
    long lines = 1;
  };
  const Row rows[] = {
      {{}, "nothing varies: give --vary PATH=VALUES"},
      {{"--random", "3"}, "nothing varies"},
      {{"--vary", "battery.capacity=7,8 Ahh", "--vary", "panel.power=-1"}, "did you mean Ah?", 2},
      {{"--vary", "battery.capcity=7"}, "(did you mean battery.capacity?)"},
      {{"--vary", "loads[mist].draw=1"}, "nothing in the list is called \"mist\""},
      {{"--vary", "wiring[3].length=1"}, "[3] is past the end"},
      {{"--vary", "battery.capacity=7", "--vary", "battery.capacity=8"}, "varies twice"},
      {{"--vary", "loads[misting pump].draw=1", "--vary", "loads[0].draw=2"}, "does not last"},
      {{"--vary", "battery.capacity=7", "--set", "panel.power=x"}, "panel.power"},
      {{"--vary", "battery.capacity=7", "--shard", "0/2"}, "\"0/2\" is not I/N"},
      {{"--vary", "battery.capacity=7", "--shard", "3/2"}, "\"3/2\" is not I/N"},
      {{"--vary", "battery.capacity=7", "--shard", "2"}, "\"2\" is not I/N"},
      {{"--vary", "battery.capacity=7", "--shard", "1/2", "--format", "md"}, "--shard goes with"},
      {{"--vary", "battery.capacity=7", "--random", "0"}, "--random: \"0\" is not a whole number"},
      {{"--vary", "battery.capacity=7", "--weather", "mean", "--seed", "1"}, "--seed goes with"},
      {{"--vary", "battery.capacity=1..2000:1", "--format", "table"}, "too many for a table"},
      {{"--from", "-"}, "only one of site, weather and rows can be read"},
      {{"--from", "no/such.csv"}, "no/such.csv"},
  };
  for (const Row& row : rows) {
    const Ran bad = sweep(row.words);
    CAPTURE(row.words, bad.err);
    CHECK(bad.status == 2);
    CHECK(bad.out.empty());
    CHECK(holds(bad.err, row.told));
    CHECK(std::count(bad.err.begin(), bad.err.end(), '\n') == row.lines);
  }
}

TEST_CASE("a sweep takes its combinations from a table", "[cli][sweep]") {
  const std::string file =
      (std::filesystem::temp_directory_path() / "amptally-rows-test.csv").string();
  std::ofstream(file) << "battery.capacity,loads[misting pump].draw\n7 Ah,300 mA\n12,0.5\n";
  const std::vector<Json> all =
      records(sweep(with(kMean, {"--from", file, "--vary", "panel.power=20,50"})));
  REQUIRE(all.size() == 4);
  CHECK(all[1]["battery.capacity"] == 7);
  CHECK(all[1]["loads[misting pump].draw"] == 0.3);
  CHECK(all[1]["panel.power"] == 50);
  CHECK(all[2]["battery.capacity"] == 12);
  std::filesystem::remove(file);
}

TEST_CASE("a sweep as a table or Markdown breaks field names to fit its columns", "[cli][sweep]") {
  const Words words = with(
      kMean, {"--vary", "battery.capacity=7,12 Ah", "--vary", "battery.floor=40,50 %", "--format"});
  const Ran table = sweep(with(words, {"table"}));
  CHECK(table.out.starts_with("battery.  battery."));
  CHECK(holds(table.out, "Autonomy"));
  CHECK(lines_of(table.out).size() == 3 + 1 + 4);
  CHECK(holds(sweep(with(words, {"md"})).out, "| battery. capacity, Ah | battery. floor, % |"));
}

TEST_CASE("rough numbers are said to be taken by their middles, once", "[cli][sweep]") {
  const Words words = {"--weather", "mean", "--vary", "battery.capacity=7,12"};
  const auto told = [&](const Words& more) { return sweep(with(words, more), {}, kRoughSite).err; };
  CHECK(told({}) == "amptally: rough numbers are taken by their middles: loads[0].draw\n");
  CHECK(told({"--quiet"}).empty());
  CHECK(told({"--shard", "1/2"}) == told({}));
  CHECK(told({"--shard", "2/2"}).empty());
  // What varies is not rough any more.
  CHECK(told({"--vary", "loads[0].draw=1 A"}).empty());
}

TEST_CASE("progress is shown on a terminal alone, and only where no records go there",
          "[cli][sweep]") {
  // Refused combinations are quick, and enough for several chunks.
  const Words words = {"--weather", "mean",
                       "--set",     "regulator.reconnect=12.5 V",
                       "--vary",    "regulator.cutoff=13 V",
                       "--vary",    "battery.capacity=1..300:1"};
  const auto told = [&](const Words& more, const amptally::cli::Terminal& terminal) {
    return holds(sweep(with(words, more), terminal).err, " of 300 records (");
  };
  CHECK(told({}, {.has_messages = true}));
  CHECK_FALSE(told({}, {}));
  CHECK_FALSE(told({"--quiet"}, {.has_messages = true}));
  CHECK_FALSE(told({}, {.is_terminal = true, .has_messages = true}));
  CHECK(told({"--format", "table"}, {.is_terminal = true, .has_messages = true}));
}

TEST_CASE("a sweep writes a file of records whole or not at all", "[cli][sweep]") {
  const std::string file =
      (std::filesystem::temp_directory_path() / "amptally-records-test.csv").string();
  const Words words = with(kMean, {"--vary", "battery.capacity=7,12", "--format", "csv"});
  const Ran run = sweep(with(words, {"-o", file}));
  CHECK(run.status == 0);
  CHECK(run.out.empty());
  std::ifstream stream(file);
  CHECK(std::string(std::istreambuf_iterator<char>(stream), {}) == sweep(words).out);
  std::filesystem::remove(file);
  CHECK(sweep(with(words, {"-o", "/no/such/folder/x"})).status == 4);
}
