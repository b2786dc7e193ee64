#include <algorithm>
#include <cctype>
#include <regex>
#include <set>

#include "amptally/battery_type.hpp"

#include "catch.hpp"
#include "cli/command_table.hpp"
#include "cli/manual.hpp"
#include "cli/program.hpp"
#include "cli/status.hpp"

using namespace amptally;
using namespace amptally::test;

namespace {

std::set<std::string> matches(const std::string& text, const char* pattern) {
  const std::regex expression(pattern);
  std::set<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), expression), end; at != end; ++at) {
    found.insert((*at)[1]);
  }
  return found;
}

/// The options of a command's help: what stands where options stand, not what the prose mentions.
std::set<std::string> options_of(const std::string& help) {
  return matches(help, R"(\n  (?:-[a-z],)?(--[a-z-]+))");
}

/// A page of roff as its reader sees the letters.
std::string manual() {
  return std::regex_replace(cli::manual_page("2026-01-01"), std::regex(R"(\\f[BIR])"), "");
}

std::string unescaped(const std::string& roff) {
  return std::regex_replace(roff, std::regex(R"(\\-)"), "-");
}

std::vector<std::string> offered(std::vector<std::string> words) {
  words.insert(words.begin(), "complete");
  const Ran ran_ = ran(words);
  CHECK(ran_.status == 0);
  CHECK(ran_.err.empty());
  std::vector<std::string> out;
  std::istringstream lines(ran_.out);
  for (std::string line; std::getline(lines, line);) out.push_back(line.substr(0, line.find('\t')));
  return out;
}

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("the manual page has the commands, options and exit statuses of the help",
          "[cli][docs]") {
  const std::string page = unescaped(manual());
  const std::string help = ran({"--help"}).out;
  const std::size_t first = help.find("\nCommands:");
  const std::string commands = help.substr(first, help.find("\nStart here") - first);
  const std::set<std::string> names = matches(commands, R"(\n  ([a-z]+) )");
  CHECK(names.size() >= 12);
  CHECK(matches(page, R"re(\n\.SS "([a-z]+))re") == names);

  std::set<std::string> options = options_of(help);
  for (const std::string& name : names) options.merge(options_of(ran({name, "--help"}).out));
  CHECK(matches(page, R"(\n\.TP\n(?:-[a-z] ?[A-Z]*, )?(--[a-z-]+))") == options);

  const std::set<std::string> statuses =
      matches(help.substr(help.find("\nExit status:")), R"(\n  ([0-9]+) )");
  CHECK(statuses.size() == std::size(cli::kStatusMeanings));
  CHECK(matches(page, R"(\n\.TP\n\.B ([0-9]+)\n)") == statuses);
}

TEST_CASE("help fits a terminal of 80 columns", "[cli]") {
  std::vector<Words> asked = {{"--help"}};
  for (const cli::Command& command : cli::all_commands()) {
    asked.push_back({command.name, "--help"});
  }
  for (const Words& words : asked) {
    std::istringstream lines(ran(words).out);
    int count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
      CAPTURE(line);
      CHECK(line.size() <= 80);
    }
    CHECK(count > 5);
  }
}

TEST_CASE("each command has examples, and each example is of its command", "[cli][docs]") {
  for (const cli::Command& command : cli::all_commands()) {
    CAPTURE(command.name, command.examples);
    std::istringstream lines(command.examples);
    int count = 0;
    bool goes_on = false;
    for (std::string line; std::getline(lines, line) && !line.empty();) {
      CHECK((goes_on || line.starts_with("  amptally " + command.name)));
      goes_on = line.ends_with('\\');
      if (!goes_on) ++count;
    }
    CHECK(count >= 2);
  }
}

TEST_CASE("completion offers commands for the first word", "[cli][complete]") {
  CHECK(offered({"bu"}) == Words{"budget"});
  CHECK(offered({"BU"}) == Words{"budget"});
  CHECK(offered({"--v"}) == Words{"--version"});
  CHECK(offered({"nonsense"}).empty());
  CHECK(offered({"nonsense", ""}).empty());
  CHECK(offered({}).size() == cli::all_commands().size());
}

TEST_CASE("completion offers what may follow the words already there", "[cli][complete]") {
  CHECK(offered({"budget", ""}) == Words{"FILE"});
  CHECK(offered({"budget", "--qu"}) == Words{"--quiet"});
  CHECK(offered({"budget", "--quiet", "--qu"}).empty());
  CHECK(offered({"budget", "--set", "a=b", "--se"}) == Words{"--set", "--seed"});
  CHECK(offered({"budget", "--seed", ""}).empty());  // any number
  // With the site given only options are left.
  const Words after_site = offered({"budget", "site.json", ""});
  CHECK(std::ranges::find(after_site, "--weather") != after_site.end());
  CHECK(std::ranges::find(after_site, "FILE") == after_site.end());
  // The value of an option is no site.
  CHECK(offered({"budget", "--format", "json", ""}) == Words{"FILE"});
  CHECK(offered({"budget", "--format=json", ""}) == Words{"FILE"});
  CHECK(offered({"places", "port", "hoba"}) == Words{"hobart"});
}

TEST_CASE("completion offers the values of options", "[cli][complete]") {
  CHECK(offered({"budget", "--format", ""}) == Words{"table", "json", "csv", "md"});
  CHECK(offered({"budget", "--format=m"}) == Words{"--format=md"});
  CHECK(offered({"budget", "--color", "a"}) == Words{"auto", "always"});
  CHECK(offered({"budget", "--weather", ""}) == Words{"mean", "synthetic", "FILE"});
  CHECK(offered({"budget", "-o", ""}) == Words{"FOLDER"});
  CHECK(offered({"schema", ""}) == Words{"site", "parts"});
  CHECK(offered({"new", "--place", "HOBA"}) == Words{"hobart"});
  CHECK(offered({"fit", "--load", ""}).empty());
}

TEST_CASE("fields are completed for --set and explain, each as it is written there",
          "[cli][complete]") {
  CHECK(offered({"budget", "--set", "battery.capa"}) == Words{"battery.capacity="});
  CHECK(offered({"budget", "--set", "loads[0].dr"}) == Words{"loads[0].draw="});
  CHECK(offered({"budget", "--set", "loads[12].dr"}) == Words{"loads[12].draw="});
  CHECK(offered({"budget", "--set", "loads[drip pump].dr"}) == Words{"loads[drip pump].draw="});
  CHECK(offered({"budget", "--set", "water.lines[1].tube.b"}) ==
        Words{"water.lines[1].tube.bore="});
  CHECK(offered({"explain", "loads[].dr"}) == Words{"loads[].draw"});
  // An object has no value that a person would type.
  CHECK(offered({"budget", "--set", "batter"}) != offered({"explain", "batter"}));

  const Words open = offered({"budget", "--set", "loads[1"});
  REQUIRE_FALSE(open.empty());
  for (const std::string& path : open) CHECK(path.starts_with("loads[1]."));
}

TEST_CASE("words that a field can have are completed behind its =", "[cli][complete]") {
  Words kinds;
  for (const BatteryType& type : battery_types()) {
    kinds.push_back("battery.kind=" + std::string(type.name));
  }
  CHECK(offered({"budget", "--set", "battery.kind="}) == kinds);
  CHECK(offered({"budget", "--set=regulator.kind=m"}) == Words{"--set=regulator.kind=mppt"});
  CHECK(offered({"budget", "--set", "loads[pump].always="}) == Words{"loads[pump].always=true"});
  CHECK(offered({"budget", "--set", "place.name=hoba"}) == Words{"place.name=hobart"});
  CHECK(offered({"budget", "--set", "panel.power="}).empty());
  CHECK(offered({"budget", "--set", "no.such="}).empty());
}

TEST_CASE("a sweep's fields and each word of their lists are completed", "[cli][complete]") {
  CHECK(offered({"sweep", "--vary", "battery.capa"}) == Words{"battery.capacity="});
  CHECK(offered({"sweep", "--vary", "regulator.kind=pwm,m"}) == Words{"regulator.kind=pwm,mppt"});
  CHECK(offered({"sweep", "--vary=loads[a,b].always="}) == Words{"--vary=loads[a,b].always=true"});
  CHECK(offered({"sweep", "--vary", "a=b", "--var"}) == Words{"--vary"});
  CHECK(offered({"sweep", "--from", ""}) == Words{"FILE"});
  // Another command's setting is one value.
  CHECK(offered({"budget", "--set", "regulator.kind=pwm,m"}).empty());
}

TEST_CASE("every field that --set completes is one that the site file has", "[cli][complete]") {
  for (const std::string& path : offered({"budget", "--set", ""})) {
    CAPTURE(path);
    CHECK(path.ends_with("="));
    CHECK(ran({"explain", path.substr(0, path.size() - 1)}).status == 0);
  }
}
