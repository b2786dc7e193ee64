#include "report/chart.hpp"

#include <sstream>
#include <vector>

#include "catch.hpp"
#include "report/text.hpp"

using namespace amptally;

namespace {

/// A year whose days have each block of five (one of 73 columns) at one charge.
std::vector<DayBalance> year_of(double (*charge)(int column)) {
  std::vector<DayBalance> days(kDaysPerYear);
  for (int d = 0; d < kDaysPerYear; ++d) {
    days[static_cast<std::size_t>(d)].state_of_charge_min = charge(d / 5);
  }
  return days;
}

std::vector<std::string> drawn(const std::vector<DayBalance>& days, double floor_charge,
                               std::size_t width, bool colour = false) {
  std::istringstream text(
      report::charge_strip(days, floor_charge, {.width = width, .colour = colour, .chart = true}));
  std::vector<std::string> lines;
  for (std::string line; std::getline(text, line);) lines.push_back(line);
  return lines;
}

std::string repeated(const std::string& block, int times) {
  std::string text;
  for (int i = 0; i < times; ++i) text += block;
  return text;
}

}  // namespace

TEST_CASE("each row of the drawing is a quarter of the charge, filled in eighths",
          "[report][chart]") {
  // Charges of 0, 1/32 .. 9/32, then full.
  const auto days = year_of([](int column) { return column < 10 ? column / 32.0 : 1.0; });
  const auto lines = drawn(days, 0.5, 100);
  REQUIRE(lines.size() == 5);
  CHECK(lines[0] == "100 % " + repeated(" ", 10) + repeated("█", 63));
  CHECK(lines[1] == "      " + repeated(" ", 10) + repeated("█", 63));
  CHECK(lines[2] == "               ▁" + repeated("█", 63) + " floor 50 %");
  CHECK(lines[3] == "  0 %  ▁▂▃▄▅▆▇██" + repeated("█", 63));
  CHECK(lines[4] == "      Jan   Feb  Mar    Apr   May   Jun   Jul   Aug   Sep   Oct   Nov   Dec");
}

TEST_CASE("a column of the drawing shows the lowest of its days", "[report][chart]") {
  auto days = year_of([](int) { return 1.0; });
  days[7].state_of_charge_min = 0.25;  // the third day of the second column
  const auto lines = drawn(days, 0.5, 100);
  CHECK(lines[0] == "100 % █ " + repeated("█", 71));
  CHECK(lines[3] == "  0 % " + repeated("█", 73));
}

TEST_CASE("the drawing names the floor beside the row it falls in", "[report][chart]") {
  const auto days = year_of([](int) { return 1.0; });
  struct Row {
    double floor_charge;
    std::size_t line;
    const char* words;
  };
  for (const Row& row :
       {Row{1, 0, " floor 100 %"}, Row{0.75, 1, " floor 75 %"}, Row{0.51, 1, " floor 51 %"},
        Row{0.5, 2, " floor 50 %"}, Row{0.2, 3, " floor 20 %"}, Row{0, 3, " floor 0 %"}}) {
    const auto lines = drawn(days, row.floor_charge, 100);
    CAPTURE(row.floor_charge);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      CHECK((lines[i].find("floor") != std::string::npos) == (i == row.line));
    }
    CHECK(lines[row.line].ends_with(row.words));
  }
}

TEST_CASE("a day just below the floor is drawn below the floor", "[report][chart]") {
  const auto days = year_of([](int column) { return column == 0 ? 0.4999 : 0.5; });
  const auto lines = drawn(days, 0.5, 100);
  CHECK(lines[2].starts_with("      ▇██"));
}

TEST_CASE("on a narrow terminal the drawing has fewer columns and the months' first letters",
          "[report][chart]") {
  const auto days = year_of([](int) { return 1.0; });
  for (const std::size_t width : {60U, 61U, 70U, 80U, 89U, 90U, 100U}) {
    CAPTURE(width);
    std::size_t widest = 0;
    for (const std::string& line : drawn(days, 0.5, width)) {
      widest = std::max(widest, report::display_width(line));
    }
    CHECK(widest == std::min<std::size_t>(width, 6 + 73 + 11));
  }
  CHECK(drawn(days, 0.5, 60)[4] == "      J  F   M  A   M  J   J   A  S   O  N   D");
  CHECK(drawn(days, 0.5, 80)[4] ==
        "      Jan  Feb  Mar  Apr  May   Jun  Jul  Aug   Sep  Oct  Nov  Dec");
}

TEST_CASE("every day is in one column of the drawing, whatever its width",
          "[report][chart][property]") {
  for (const std::size_t width : {60U, 71U, 80U, 100U}) {
    for (std::size_t day = 0; day < kDaysPerYear; ++day) {
      std::vector<DayBalance> days(kDaysPerYear);
      days[day].state_of_charge_min = 0;
      const std::string bottom = drawn(days, 0.5, width)[3].substr(6);
      CAPTURE(width, day);
      CHECK(std::count(bottom.begin(), bottom.end(), ' ') == 1);
    }
  }
}

TEST_CASE("the drawing's colours repeat which columns are below the floor", "[report][chart]") {
  const auto days = year_of([](int column) { return column < 2 ? 0.25 : 1.0; });
  const auto lines = drawn(days, 0.5, 100, true);
  CHECK(lines[3] == "  0 % \x1b[1;31m██\x1b[0m" + repeated("█", 71));
  const auto plain = drawn(days, 0.5, 100, false);
  CHECK(plain[2] == "        " + repeated("█", 71) + " floor 50 %");
}
