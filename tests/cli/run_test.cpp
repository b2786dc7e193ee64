#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <set>
#include <stdlib.h>

#include "catch.hpp"
#include "cli/command_table.hpp"
#include "cli/program.hpp"
#include "report/text.hpp"

using namespace amptally::test;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::string file_text(const std::filesystem::path& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A folder of its own, gone at the end.
struct Folder {
  std::filesystem::path path;
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "amptally-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path); }
};

bool one_line(const std::string& text) {
  return std::count(text.begin(), text.end(), '\n') == 1 && text.back() == '\n';
}

}  // namespace

TEST_CASE("the verdict comes first and decides the status", "[cli]") {
  const Ran good = ran({"budget", "-"}, kSite);
  CHECK(good.status == 0);
  CHECK(good.err.empty());
  CHECK(good.out.starts_with("Holds in a mean year: "));

  const Ran thin = ran({"budget", "-", "--set", "aim.autonomy=300"}, kSite);
  CHECK(thin.status == 1);
  CHECK(thin.err.empty());
  CHECK(thin.out.starts_with("Too little in store: "));

  const Ran small = ran({"budget", "-", "--set", "panel.power=1 W"}, kSite);
  CHECK(small.status == 1);
  CHECK(small.out.starts_with("Runs short in a mean year: "));
}

TEST_CASE("the budget tells of place, parts, months, uses, findings and what was assumed",
          "[cli]") {
  const std::string out = ran({"budget", "-"}, kRoughSite).out;
  for (const char* part :
       {"Gijón | terrace", "43.50° N, 5.70° W", "60 W panel at 55° facing 180° (south)",
        "18 Ah 12 V", "PWM regulator", "Sep", "Year", "misting pump", "controller",
        "regulator standby", "Worth knowing", "Source: ", "Not given, so assumed",
        "draw of misting pump (2 to 2.4 A)", "local electrical codes"}) {
    CAPTURE(part);
    CHECK(holds(out, part));
  }
}

TEST_CASE("a rough share is told in per cent, and as a share of 1 to machines", "[cli]") {
  const std::vector<std::string> rough = {"--set", "panel.losses=10..25 %"};
  std::vector<std::string> words = {"budget", "-"};
  words.insert(words.end(), rough.begin(), rough.end());
  CHECK(holds(ran(words, kSite).out, "panel losses (10 to 25 %)"));
  words.insert(words.end(), {"--format", "json"});
  CHECK(holds(ran(words, kSite).out,
              "\"low\": 0.1,\n      \"high\": 0.25,\n      \"unit\": \"share\""));
}

TEST_CASE("a site without a name has no line for a name", "[cli]") {
  CHECK(holds(ran({"sun", "-"}, kSite).out, "Site   Gijón"));
  CHECK_FALSE(holds(ran({"sun", "-", "--set", "name=\"\""}, kSite).out, "Site"));
}

TEST_CASE("no line of a result is wider than 80 columns off a terminal", "[cli]") {
  for (const std::vector<std::string>& words : {std::vector<std::string>{"budget", "-", "--daily"},
                                                {"sun", "-", "--tilts"},
                                                {"check", "-"},
                                                {"places", "san"},
                                                {"explain"},
                                                {"explain", "place.insolation"}}) {
    for (const std::string& line : lines_of(ran(words, kRoughSite).out)) {
      CAPTURE(line);
      CHECK(amptally::report::display_width(line) <= 80);
    }
  }
}

TEST_CASE("paragraphs follow the terminal, within 40 and 100 columns", "[cli]") {
  const auto widest_paragraph = [](int columns) {
    const std::string out =
        ran({"budget", "-"}, kSite, {.is_terminal = true, .columns = columns}).out;
    std::size_t widest = 0;
    for (const std::string& line : lines_of(out)) {
      if (line.starts_with("  ")) {  // findings
        widest = std::max(widest, amptally::report::display_width(line));
      }
    }
    return widest;
  };
  // The findings' longest line fills most of what it may, and never more.
  CHECK(widest_paragraph(300) <= 100);
  CHECK(widest_paragraph(300) > 80);
}

TEST_CASE("quiet leaves the verdict alone", "[cli]") {
  const Ran quiet = ran({"budget", "-", "--quiet", "--weather", "mean"}, kSite);
  CHECK(one_line(quiet.out));
  CHECK(quiet.out.starts_with("Holds in a mean year: "));
  CHECK(
      one_line(ran({"budget", "-", "--quiet", "--weather", "mean", "--format", "md"}, kSite).out));
  CHECK(ran({"check", "-", "--quiet"}, kSite).out.empty());
  // CSV and JSON have no lines to spare.
  CHECK(ran({"budget", "-", "--quiet", "--format", "csv"}, kSite).out ==
        ran({"budget", "-", "--format", "csv"}, kSite).out);
}

TEST_CASE("budget lists the days when asked to", "[cli]") {
  CHECK(lines_of(ran({"budget", "-", "--format", "csv"}, kSite).out).size() == 13);
  const auto days = lines_of(ran({"budget", "-", "--daily", "--format", "csv"}, kSite).out);
  REQUIRE(days.size() == 366);
  CHECK(days[365].starts_with("365,"));
  CHECK(holds(ran({"budget", "-", "--daily"}, kSite).out, "\n31 Dec "));
  CHECK_FALSE(holds(ran({"budget", "-"}, kSite).out, "31 Dec"));
}

TEST_CASE("Markdown keeps a name's bar out of its tables", "[cli]") {
  const std::string out = ran({"budget", "-", "--format", "md"}, kSite).out;
  CHECK(holds(out, "**Site:** Gijón \\| terrace"));
  CHECK(holds(out, "| Month | Sun on ground, kWh/m² |"));
}

TEST_CASE("colour goes to terminals and to those who ask for it", "[cli]") {
  const auto coloured = [](const std::vector<std::string>& more,
                           const amptally::cli::Terminal& on) {
    std::vector<std::string> words = {"budget", "-"};
    words.insert(words.end(), more.begin(), more.end());
    return holds(ran(words, kSite, on).out, "\x1b[");
  };
  const amptally::cli::Terminal screen = {.is_terminal = true, .wants_colour = true};
  const amptally::cli::Terminal plain = {.is_terminal = true, .wants_colour = false};
  CHECK(coloured({}, screen));
  CHECK_FALSE(coloured({}, plain));  // NO_COLOR or a dumb terminal
  CHECK_FALSE(coloured({}, {}));
  CHECK_FALSE(coloured({"--color", "never"}, screen));
  CHECK(coloured({"--color", "always"}, {}));
  CHECK(coloured({"--color", "always"}, plain));
  CHECK_FALSE(coloured({"--color", "always", "--format", "json"}, screen));
}

TEST_CASE("a terminal without UTF-8 gets ASCII alone", "[cli]") {
  const Ran plain = ran({"budget", "-"}, kSite, {.is_terminal = true, .utf8 = false});
  CHECK(std::all_of(plain.out.begin(), plain.out.end(),
                    [](char c) { return static_cast<unsigned char>(c) < 0x80; }));
  CHECK(holds(plain.out, "55 deg facing 180 deg (south)"));
}

TEST_CASE("sun shows the months and, when asked, the tilts", "[cli]") {
  const Ran months = ran({"sun", "-"}, kSite);
  CHECK(months.status == 0);
  CHECK(holds(months.out, "December"));
  CHECK_FALSE(holds(months.out, "Other tilts"));
  CHECK(holds(ran({"sun", "-", "--tilts"}, kSite).out, "Most sun over the year at "));
  CHECK(lines_of(ran({"sun", "-", "--format", "csv"}, kSite).out).size() == 13);
  CHECK(ran({"sun", "-", "--tilts", "--format", "csv"}, kSite).out.starts_with("tilt_deg,"));
}

TEST_CASE("a steep panel's winter sun is said to be rough, and a flatter one's is not", "[cli]") {
  const std::string said =
      "from November to February, is good to about 10 % even with exact sun on the ground.";
  for (const char* command : {"sun", "budget"}) {
    CAPTURE(command);
    const auto json_of = [&](const char* tilt) {
      return ran({command, "-", "--format", "json", "--set", tilt}, kSite).out;
    };
    CHECK_FALSE(holds(json_of("panel.tilt=55 deg"), said));
    CHECK(holds(json_of("panel.tilt=60 deg"), said));
  }
  const auto on_one_line = [](std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
  };
  CHECK(holds(on_one_line(ran({"sun", "-", "--set", "panel.tilt=60 deg"}, kSite).out), said));
  CHECK_FALSE(holds(on_one_line(ran({"sun", "-"}, kSite).out), said));
  CHECK(holds(on_one_line(ran({"sun", "-", "--tilts"}, kSite).out), said));  // up to 90 deg
}

TEST_CASE("check says that a good file is good", "[cli]") {
  const Ran good = ran({"check", "-"}, kSite);
  CHECK(good.status == 0);
  CHECK(good.out.starts_with("standard input: no problems\n"));
  CHECK(holds(good.out, "Not given, so assumed"));
}

TEST_CASE("all problems of a site are told, one line each, by every command", "[cli][errors]") {
  const std::vector<std::string> two = {"--set", "battery.capacity=7 Ahh", "--set",
                                        "panel.tilt=95 deg"};
  for (const char* command : {"budget", "sun", "check"}) {
    std::vector<std::string> words = {command, "-"};
    words.insert(words.end(), two.begin(), two.end());
    const Ran bad = ran(words, kSite);
    CAPTURE(command, bad.err);
    CHECK(bad.status == 2);
    CHECK(bad.out.empty());
    const std::vector<std::string> lines = lines_of(bad.err);
    REQUIRE(lines.size() == 2);
    for (const std::string& line : lines) CHECK(line.starts_with("amptally: "));
    CHECK(holds(bad.err, "battery.capacity"));
    CHECK(holds(bad.err, "panel.tilt"));
  }
}

TEST_CASE("check gives problems as data when asked", "[cli][errors]") {
  const std::string broken = "{\"format\": \"amptally-site/1\",\n  \"battery\": 3 }";
  const Ran csv = ran({"check", "-", "--format", "csv"}, broken);
  CHECK(csv.status == 2);
  CHECK(csv.err.empty());
  CHECK(csv.out.starts_with("file,line,column,field,message\nstandard input,"));
  CHECK(holds(csv.out, "standard input,2,"));
}

TEST_CASE("values that only fail together are found by check too", "[cli][errors]") {
  // 12 kWh/m2 a day in a northern December is more than the top of the air gets.
  const std::vector<std::string> excess = {"--set", "place.insolation=[2,3,4,5,6,6,6,5,4,3,2,12]"};
  for (const char* command : {"budget", "check"}) {
    std::vector<std::string> words = {command, "-"};
    words.insert(words.end(), excess.begin(), excess.end());
    const Ran bad = ran(words, kSite);
    CAPTURE(bad.err);
    CHECK(bad.status == 2);
    CHECK(one_line(bad.err));
    CHECK(holds(bad.err, "place.insolation"));
  }
}

TEST_CASE("without a site the program says how to get one", "[cli][errors]") {
  for (const char* command : {"budget", "sun", "check"}) {
    const Ran none = ran({command});
    CHECK(none.status == 2);
    CHECK(one_line(none.err));
    CHECK(holds(none.err, "amptally new > site.json"));
    CHECK(holds(none.err, "--demo"));
  }
  CHECK(ran({"budget", "-", "--demo"}, kSite).status == 2);
}

TEST_CASE("a command line that cannot be used costs one line and status 2", "[cli][errors]") {
  struct Row {
    std::vector<std::string> words;
    const char* told;
  };
  const Row rows[] = {
      {{}, "amptally new > site.json begins a site, see amptally --help"},
      {{"bugdet"}, "unknown command \"bugdet\" (did you mean budget?)"},
      {{"--demo", "budget"}, "unknown option --demo; the command comes first"},
      {{"budget", "--dayly"},
       "unknown option --dayly (did you mean --daily?); see amptally budget"},
      {{"budget", "-", "other.json"}, "\"other.json\" is one word too many"},
      {{"budget", "-", "--set", "a.b=1", "other.json"}, "\"other.json\" is one word too many"},
      {{"budget", "--format"}, "--format needs a value"},
      {{"budget", "--format", "jsn"}, "(did you mean json?)"},
      {{"budget", "--format="}, "--format needs a value"},
      {{"budget", "-ho"}, "--output needs a value"},
      {{"budget", "--format", "a", "--format", "b", "--output"}, "--output needs a value"},
      {{"budget", "--format", "csv", "--format", "md"}, "--format is given more than once"},
      {{"budget", "--format", "csv", "--format", "--output"}, "--format is given more than once"},
      {{"budget", "-o", "x", "--output", "y"}, "--output is given more than once"},
      {{"budget", "--color", "blue"}, "\"blue\" is not one of auto, always, never"},
      {{"budget", "-", "-o", ""}, "the name of the file is empty"},
      {{"budget", "-", "--set", "battery.capacity"}, "battery.capacity"},
      {{"budget", "no/such/site.json"}, "no/such/site.json"},
      {{"places", "--near", "43"}, "\"43\" is not LAT,LON"},
      {{"places", "--near", "95,4"}, "latitude \"95\" is not a number in -90..90 deg"},
      {{"places", "--near", "nan,4"}, "latitude \"nan\""},
      {{"places", "Hobrat"}, "(did you mean Hobart?)"},
      {{"places", "Hobart", "--near", "43,-5"}, "not both"},
      {{"explain", "kind"}, "no field \"kind\""},  // several are called so
      {{"explain", "battery.capcity"}, "(did you mean battery.capacity?)"},
      {{"new", "--place", "Hobrat"}, "(did you mean Hobart?)"},
      {{"sise"}, "unknown command \"sise\" (did you mean size?)"},
      {{"--hlep"}, "unknown option --hlep (did you mean --help?)"},
      {{"site.json"}, "the command comes first, such as amptally budget site.json"},
      {{"budget", "--weathr", "mean"}, "unknown option --weathr (did you mean --weather?)"},
      {{"budget", "-", "--set", "panel.powr=3"}, "(did you mean panel.power?)"},
      {{"budget", "-", "--set", "loads[controller].drew=3"},
       "(did you mean loads[controller].draw?)"},
      {{"budget", "-", "--set", "loads[contoller].draw=3"}, "(did you mean controller?)"},
      {{"fit", "-", "--laod", "x: 1 A"}, "unknown option --laod (did you mean --load?)"},
      {{"fit", "-"}, "--load is required"},
      {{"explain", "batery"}, "(did you mean battery?)"},
      {{"explain", "capasity"}, "(did you mean battery.capacity?)"},
      {{"places", "--near", "Hobart"}, "a place by its name is amptally places NAME"},
      {{"schema", "prats"}, "(did you mean parts?)"},
  };
  for (const Row& row : rows) {
    const Ran bad = ran(row.words, kSite);
    CAPTURE(row.words, bad.err);
    CHECK(bad.status == 2);
    CHECK(bad.out.empty());
    CHECK(one_line(bad.err));
    CHECK(bad.err.starts_with("amptally: "));
    CHECK(holds(bad.err, row.told));
  }
}

TEST_CASE("a message stays one line and gives the terminal no orders", "[cli][errors]") {
  const Ran bad = ran({"places", "a\nb\x1b[31mc"});
  CHECK(one_line(bad.err));
  CHECK_FALSE(holds(bad.err, "\x1b"));
}

TEST_CASE("places are found by words and by nearness", "[cli]") {
  const Ran words = ran({"places", "hobart"});
  CHECK(words.status == 0);
  CHECK(holds(words.out, "Hobart"));
  const auto near = lines_of(ran({"places", "--near", "-42.9,147.3", "--format", "csv"}).out);
  REQUIRE(near.size() == 11);
  CHECK(near[0] ==
        "id,name,country,latitude_deg,longitude_deg,elevation_m,sun_mean_kwh_m2_day,distance_km");
  CHECK(near[1].starts_with("hobart,"));  // 42.88 S, 147.33 E
}

TEST_CASE("explain tells of one field, of what an object holds, or lists all", "[cli]") {
  const Ran one = ran({"explain", "loads[pump].draw"});
  CHECK(one.status == 0);
  CHECK(one.out.starts_with("loads[].draw\n"));
  CHECK(holds(one.out, "Allowed"));
  const Ran object = ran({"explain", "panel.shade"});
  CHECK(holds(object.out, "What may stand in it"));
  CHECK(holds(object.out, "panel.shade[].blocks"));
  CHECK_FALSE(holds(object.out, "panel.tilt"));
  CHECK(lines_of(ran({"explain"}).out).size() > 60);
  CHECK(ran({"explain", "--format", "csv"})
            .out.starts_with("field,write,default,allowed,meaning,usual,source\nformat,"));
}

TEST_CASE("the file that new writes has no problem", "[cli]") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"new"}, {"new", "--place", "Hobart"}}) {
    const Ran fresh = ran(words);
    REQUIRE(fresh.status == 0);
    const Ran checked = ran({"check", "-"}, fresh.out);
    CAPTURE(checked.err);
    CHECK(checked.status == 0);
  }
  CHECK(holds(ran({"new", "--place", "Hobart"}).out, "Hobart"));
}

TEST_CASE("the demonstration needs no file", "[cli]") {
  const Ran demo = ran({"budget", "--demo"});
  CAPTURE(demo.err);
  CHECK(demo.status <= 1);
  CHECK_FALSE(demo.out.empty());
}

TEST_CASE("help is a result: standard output, status 0", "[cli]") {
  const Ran help = ran({"--help"});
  CHECK(help.status == 0);
  CHECK(help.err.empty());
  for (const auto& command : amptally::cli::all_commands()) {
    CAPTURE(command.name);
    CHECK(holds(help.out, "\n  " + command.name + " "));
    const Ran own = ran({command.name, "--help"});
    CHECK(own.status == 0);
    CHECK(holds(own.out, "Examples:"));
    for (const std::string& line : lines_of(own.out)) CHECK(line.size() <= 90);
  }
  CHECK(ran({"--version"}).out == "amptally 0.1.0\n");
}

TEST_CASE("the documentation has every option and no other", "[cli][docs]") {
  const auto options_in = [](const std::string& text) {
    std::set<std::string> options;
    for (std::size_t at = text.find("--"); at != std::string::npos; at = text.find("--", at + 2)) {
      if (at > 0 && (std::isalnum(static_cast<unsigned char>(text[at - 1])) || text[at - 1] == '-'))
        continue;
      const std::size_t end = text.find_first_not_of("abcdefghijklmnopqrstuvwxyz-", at);
      if (std::isalpha(static_cast<unsigned char>(text[at + 2])) != 0)
        options.insert(text.substr(at, end - at));
    }
    return options;
  };
  std::string help = ran({"--help"}).out;
  for (const auto& command : amptally::cli::all_commands()) {
    help += ran({command.name, "--help"}).out;
  }
  const auto documented =
      options_in(file_text(std::filesystem::path(AMPTALLY_SOURCE_DIR) / "docs/outputs.md"));
  CHECK(options_in(help) == documented);
}

TEST_CASE("a file that a command reads is never written over", "[cli][errors]") {
  namespace fs = std::filesystem;
  const Folder folder;
  const fs::path site = folder.path / "site.json";
  std::ofstream(site) << kSite;
  fs::create_symlink(site, folder.path / "link.json");
  fs::create_hard_link(site, folder.path / "other.json");
  for (const char* output : {"site.json", "link.json", "other.json", "./site.json"}) {
    for (const char* command : {"budget", "report", "check", "sun"}) {
      CAPTURE(command, output);
      const std::string target = (folder.path / output).string();
      const Ran run = ran({command, site.string(), "-o", target});
      CHECK(run.status == 4);
      CHECK(run.err == "amptally: " + target +
                           " is read by this command and would be lost; give --output another "
                           "name\n");
      CHECK(file_text(site) == kSite);
    }
  }
  const std::string weather = (folder.path / "weather.csv").string();
  std::ofstream(weather) << "date,global_kwh_m2\n";
  CHECK(ran({"budget", "-", "--weather", weather, "-o", weather}, kSite).status == 4);
  // Another file goes over an older one, as everywhere.
  const std::string page = (folder.path / "page.txt").string();
  std::ofstream(page) << "old";
  CHECK(ran({"check", site.string(), "-o", page}).status == 0);
  CHECK(file_text(page) != "old");
}

TEST_CASE("new keeps a file that is there", "[cli][errors]") {
  const Folder folder;
  const std::string site = (folder.path / "site.json").string();
  CHECK(ran({"new", "-o", site}).status == 0);
  const std::string first = file_text(site);
  CHECK(holds(first, "amptally-site/1"));
  const Ran again = ran({"new", "--place", "Lisbon", "-o", site});
  CHECK(again.status == 4);
  CHECK(holds(again.err, site + " is there already and is kept"));
  CHECK(file_text(site) == first);
  CHECK(ran({"new", "-o", "/dev/null"}).status == 0);
}

TEST_CASE("a file is written whole, with the permissions it had", "[cli]") {
  namespace fs = std::filesystem;
  const Folder folder;
  const fs::path target = folder.path / "budget.csv";
  const auto write = [&] {
    return ran({"budget", "-", "--format", "csv", "-o", target.string()}, kSite);
  };
  const Ran first = write();
  CHECK(first.status == 0);
  CHECK(first.out.empty());
  const std::string expected = ran({"budget", "-", "--format", "csv"}, kSite).out;
  CHECK(file_text(target) == expected);

  std::ofstream(target) << "old";
  fs::permissions(target, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
  const fs::path link = folder.path / "link.csv";
  fs::create_symlink(target, link);
  CHECK(ran({"budget", "-", "--format", "csv", "-o", link.string()}, kSite).status == 0);
  CHECK(fs::is_symlink(link));
  CHECK(file_text(target) == expected);
  CHECK(fs::status(target).permissions() ==
        (fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read));
  // Nothing else is left lying about.
  CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 2);
}

TEST_CASE("a file that cannot be written is status 4 with the reason", "[cli][errors]") {
  const Folder folder;
  for (const std::string& target : {(folder.path / "no/such/folder/x").string(),
                                    folder.path.string(), std::string("/dev/full")}) {
    const Ran bad = ran({"budget", "-", "-o", target}, kSite);
    CAPTURE(target, bad.err);
    CHECK(bad.status == 4);
    CHECK(one_line(bad.err));
    CHECK(bad.err.starts_with("amptally: cannot write " + target + ": "));
  }
}

TEST_CASE("a file is only written when there is a result", "[cli][errors]") {
  const Folder folder;
  const std::filesystem::path target = folder.path / "kept";
  std::ofstream(target) << "old";
  CHECK(ran({"budget", "-", "-o", target.string()}, "{").status == 2);
  CHECK(ran({"check", "-", "-o", target.string()}, "{").status == 2);
  CHECK(file_text(target) == "old");
}
