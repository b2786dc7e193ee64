#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <regex>

#include "catch.hpp"
#include "cli/program.hpp"
#include "report/page_style.hpp"

namespace fs = std::filesystem;
using namespace amptally::test;
using Catch::Matchers::WithinAbs;

namespace {

std::string example(const char* name) {
  return (fs::path(AMPTALLY_SOURCE_DIR) / "examples" / name).string();
}

/// The page of an example, over few years: enough to speak of one in ten, and quick.
Ran page_of(const char* file) { return ran({"report", example(file), "--years", "10"}); }

/// A page's text set as the other commands print it.
std::string as_printed(std::string page) {
  const auto replace = [&page](const std::string& from, const std::string& to) {
    for (std::size_t at = page.find(from); at != std::string::npos; at = page.find(from, at)) {
      page.replace(at, from.size(), to);
    }
  };
  replace("\u00A0", " ");
  replace("→", "->");
  return page;
}

/// The lines of an answer in Markdown without their marks.
std::vector<std::string> plain_lines(const std::string& markdown) {
  std::vector<std::string> lines;
  std::istringstream stream(markdown);
  for (std::string line; std::getline(stream, line);) {
    if (const std::size_t lead = line.find(":** "); lead != line.npos) line.erase(0, lead + 4);
    if (line.starts_with("- ")) line.erase(0, 2);
    std::erase(line, '\\');
    if (!line.empty()) lines.push_back(line);
  }
  return lines;
}

bool has_section(const std::string& page, const std::string& id) {
  return holds(page, "<section id=\"" + id + "\"");
}

/// kSite with its first load called `name`, as JSON wrote it.
std::string site_with_load(const std::string& name) {
  std::string site = kSite;
  const std::string old = "\"misting pump\"";
  return site.replace(site.find(old), old.size(), name);
}

// ---- Contrast. Source: WCAG 2.1, relative luminance and contrast ratio; success criteria 1.4.3
// (text, 4.5) and 1.4.11 (graphics, 3).

using Palette = std::map<std::string, std::string>;

Palette palette(const std::string& block) {
  Palette colours;
  const std::regex line("--([a-z-]+): (#[0-9a-f]{6});");
  for (std::sregex_iterator i(block.begin(), block.end(), line), end; i != end; ++i) {
    colours[(*i)[1]] = (*i)[2];
  }
  return colours;
}

double luminance(const std::string& colour) {
  double sum = 0;
  const std::array<double, 3> weights = {0.2126, 0.7152, 0.0722};
  for (std::size_t i = 0; i < 3; ++i) {
    const double value =
        static_cast<double>(std::strtol(colour.substr(1 + 2 * i, 2).c_str(), nullptr, 16)) / 255;
    sum += weights[i] * (value <= 0.03928 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4));
  }
  return sum;
}

double contrast(const std::string& a, const std::string& b) {
  const double one = luminance(a);
  const double other = luminance(b);
  return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

struct Pair {
  const char* front;
  const char* back;
  double least;
};

constexpr double kText = 4.5;
constexpr double kGraphics = 3;
constexpr double kDecoration = 1;  // carries no meaning of its own

/// Every colour on everything it is put on.
constexpr Pair kPairs[] = {
    {"ink", "paper", kText},           {"ink", "card", kText},
    {"soft", "paper", kText},          {"soft", "card", kText},
    {"link", "paper", kText},          {"link", "card", kText},
    {"good", "paper", kText},          {"good", "card", kText},
    {"caution", "paper", kText},       {"caution", "card", kText},
    {"bad", "paper", kText},           {"bad", "card", kText},
    {"edge", "paper", kGraphics},      {"edge", "card", kGraphics},
    {"sun", "paper", kGraphics},       {"water", "paper", kGraphics},
    {"charge", "paper", kGraphics},    {"charge", "card", kGraphics},
    {"ink", "charge-tint", kGraphics},  // the mean line over the shaded part
    {"ink", "short-tint", kGraphics},  {"bad", "charge-tint", kGraphics},  // the floor
    {"bad", "short-tint", kGraphics},  {"rule", "paper", kDecoration},
};

}  // namespace

TEST_CASE("colours of the page can be told apart, light and dark", "[cli][report]") {
  CHECK_THAT(contrast("#000000", "#ffffff"), WithinAbs(21, 1e-9));
  // Source: #767676 on white is known as the lightest grey that passes, 4.54 to 1; from memory.
  CHECK_THAT(contrast("#767676", "#ffffff"), WithinAbs(4.54, 0.005));
  const std::string style(amptally::report::page_style());
  const std::size_t dark_from = style.find("prefers-color-scheme: dark");
  REQUIRE(dark_from != std::string::npos);
  const Palette light = palette(style.substr(0, dark_from));
  const Palette dark = palette(style.substr(dark_from));
  CHECK(light.size() == dark.size());
  Palette unpaired = light;
  for (const Pair& pair : kPairs) {
    CAPTURE(pair.front, pair.back);
    CHECK(contrast(light.at(pair.front), light.at(pair.back)) >= pair.least);
    CHECK(contrast(dark.at(pair.front), dark.at(pair.back)) >= pair.least);
    unpaired.erase(pair.front);
    unpaired.erase(pair.back);
  }
  CHECK(unpaired.empty());
  // No colour but these.
  const std::regex colour("(#[0-9a-f]{3,8}\\b|rgb|hsl)");
  std::size_t named = 0;
  for (std::sregex_iterator i(style.begin(), style.end(), colour), end; i != end; ++i) ++named;
  CHECK(named == light.size() + dark.size());
}

TEST_CASE("each example's page has what its site has", "[cli][report]") {
  struct Row {
    const char* file;
    int status;
    std::vector<const char*> sections;
    std::vector<const char*> none;
  };
  const Row rows[] = {{"terrace.json", 1, {"levers", "sizes", "water", "wiring", "rough"}, {}},
                      {"goat-trough.json", 0, {"sizes", "water", "wiring", "rough"}, {"levers"}},
                      {"cold-frame.json", 0, {"sizes", "wiring", "rough"}, {"levers", "water"}}};
  for (const Row& row : rows) {
    CAPTURE(row.file);
    const Ran page = page_of(row.file);
    CHECK(page.status == row.status);
    CHECK(page.err.empty());
    for (const char* id :
         {"site", "battery", "months", "uses", "findings", "safety", "words", "sources", "file"}) {
      CAPTURE(id);
      CHECK(has_section(page.out, id));
    }
    for (const char* id : row.sections) CHECK(has_section(page.out, id));
    for (const char* id : row.none) CHECK_FALSE(has_section(page.out, id));
    for (const char* drawing : {"parts", "charge", "months", "uses"}) {
      CHECK(holds(page.out, std::string("<title id=\"") + drawing + "-title\">"));
    }
    CHECK(holds(page.out,
                row.status == 0 ? "<h2>The aim is met</h2>" : "<h2>The aim is missed</h2>"));
    CHECK(page.out.size() < 300'000);
  }
}

TEST_CASE("the page tells what the other commands tell", "[cli][report]") {
  const std::string page = as_printed(page_of("terrace.json").out);
  std::size_t told = 0;
  for (const char* command : {"budget", "levers", "size"}) {
    const Ran own =
        ran({command, example("terrace.json"), "--years", "10", "--quiet", "--format", "md"});
    for (const std::string& line : plain_lines(own.out)) {
      CAPTURE(command, line);
      CHECK(holds(page, line));
      ++told;
    }
  }
  for (const char* command : {"water", "wiring"}) {
    for (const std::string& line :
         plain_lines(ran({command, example("terrace.json"), "--quiet", "--format", "md"}).out)) {
      CAPTURE(command, line);
      CHECK(holds(page, line));
      ++told;
    }
  }
  CHECK(told >= 10);
  CHECK(holds(page, "local electrical codes"));
  CHECK(holds(page, "&quot;name&quot;: &quot;Seedling terrace&quot;"));
}

TEST_CASE("a name cannot become markup", "[cli][report]") {
  const std::string evil = "<script>alert(1)</script>";
  const Ran page =
      ran({"report", "-", "--years", "2", "--set", "name=<img src=x onerror=alert(2)>"},
          site_with_load('"' + evil + '"'));
  CHECK(page.status <= 1);
  CHECK_FALSE(holds(page.out, "<script"));
  CHECK_FALSE(holds(page.out, "<img"));
  CHECK(holds(page.out, "<h1>&lt;img src=x onerror=alert(2)&gt;</h1>"));
  CHECK(holds(page.out, "&lt;script&gt;alert(1)&lt;/script&gt;"));
}

TEST_CASE("the page fetches nothing", "[cli][report]") {
  for (const char* file : {"terrace.json", "goat-trough.json", "cold-frame.json"}) {
    const std::string page = page_of(file).out;
    const std::regex fetched(
        "<(script|link|img|iframe|object|embed|audio|video|base)\\b|src=|url\\(|"
        "@import|href=\"[^#]");
    CHECK_FALSE(std::regex_search(page, fetched));
  }
}

TEST_CASE("the same site gives the same page", "[cli][report]") {
  const std::string page = page_of("terrace.json").out;
  CHECK(page_of("terrace.json").out == page);
  CHECK(ran({"report", "--demo", "--years", "10"}).out == page);
  CHECK(ran({"report", "--demo", "--years", "10", "--seed", "2"}).out != page);
  CHECK(holds(page, "Made by amptally 0.1.0."));
}

TEST_CASE("the page is of the weather and settings asked for, and tells them", "[cli][report]") {
  const Ran mean = ran({"report", "-", "--weather", "mean"}, kSite);
  CHECK_FALSE(holds(mean.out, "the mean of 40 years"));
  CHECK(holds(mean.out, "at the lowest hour of each day"));
  CHECK(holds(ran({"report", "-", "--years", "12"}, kSite).out, "the mean of 12 years"));
  const Ran set = ran({"report", "-", "--years", "2", "--set", "battery.capacity=40 Ah"}, kSite);
  CHECK(holds(set.out, "<li>battery.capacity=40\u00A0Ah</li>"));
  CHECK(holds(set.out, "40\u00A0Ah 12\u00A0V AGM"));
  CHECK(ran({"report", "-", "--weather", "mean", "--years", "3"}, kSite).status == 2);
}

TEST_CASE("the aim decides the exit status of report as that of budget", "[cli][report]") {
  for (const char* setting : {"aim.autonomy=1", "aim.autonomy=300", "panel.power=1 W"}) {
    CAPTURE(setting);
    CHECK(ran({"report", "-", "--years", "2", "--set", setting}, kSite).status ==
          ran({"budget", "-", "--years", "2", "--set", setting}, kSite).status);
  }
}

TEST_CASE("a site with nothing to size still has its page", "[cli][report]") {
  // No sun on the panel; no draw at all.
  const Ran dark = ran({"report", "-", "--years", "2", "--set", "panel.power=0 W"}, kSite);
  CHECK(dark.status == 1);
  CHECK(holds(dark.out, "The aim is missed"));
  const Ran idle =
      ran({"report", "-", "--years", "2", "--set", "loads=[]", "--set", "regulator.standby=0 A"},
          kSite);
  CHECK(idle.err.empty());
  CHECK(idle.status == 0);
  CHECK_FALSE(has_section(idle.out, "sizes"));
}

TEST_CASE("a page is not written to a terminal", "[cli][report]") {
  const amptally::cli::Terminal screen{.is_terminal = true};
  const Ran refused = ran({"report", "-"}, kSite, screen);
  CHECK(refused.status == 2);
  CHECK(refused.out.empty());
  CHECK(holds(refused.err, "-o FILE.html"));
  CHECK(ran({"report", "-", "-o", "-", "--weather", "mean"}, kSite, screen)
            .out.starts_with("<!DOCTYPE html>"));
  CHECK(ran({"report", "-", "--weather", "mean"}, kSite).out.starts_with("<!DOCTYPE html>"));
}
