#include "sitefile/combinations.hpp"

#include <cmath>
#include <map>

#include "amptally/error.hpp"

#include "catch.hpp"

using namespace amptally;
using io::Combinations;

namespace {

Combinations combinations(const std::vector<std::string>& axes,
                          std::optional<io::Draws> draws = std::nullopt) {
  std::vector<io::Axis> parsed;
  std::vector<io::Problem> problems;
  for (const std::string& axis : axes) {
    parsed.emplace_back(io::parse_vary(axis, draws.has_value(), problems));
  }
  REQUIRE(problems.empty());
  return {std::move(parsed), draws};
}

/// "7 pwm": the values of a combination.
std::string told(const Combinations& all, std::uint64_t number) {
  std::string text;
  for (const io::VariedValue& value : all.at(number)) {
    text += (text.empty() ? "" : " ") + value.text;
  }
  return text;
}

io::RowAxis rows(const std::string& text, std::vector<io::Problem>& problems) {
  return io::RowAxis("rows.csv", text, problems);
}

std::string mistake(const std::string& text) {
  std::vector<io::Problem> problems;
  try {
    (void)rows(text, problems);
  } catch (const DataError& error) {
    return error.what();
  }
  return problems.empty()
             ? ""
             : problems[0].file + ": " + problems[0].field + ": " + problems[0].message;
}

}  // namespace

TEST_CASE("combinations change the last axis fastest", "[combinations]") {
  const Combinations all = combinations({"battery.capacity=7,12", "panel.power=20..40:10"});
  REQUIRE(all.count() == 6);
  const char* const expected[] = {"7 20", "7 30", "7 40", "12 20", "12 30", "12 40"};
  for (std::uint64_t i = 0; i < 6; ++i) CHECK(told(all, i) == expected[i]);
}

TEST_CASE("shards are contiguous, of even size, and together all combinations",
          "[combinations][property]") {
  const Combinations all = combinations({"battery.capacity=1..103:1"});
  for (const std::uint64_t of : {1U, 2U, 7U, 103U, 200U}) {
    std::uint64_t next = 0;
    for (std::uint64_t part = 1; part <= of; ++part) {
      const io::Span span = all.span({part, of});
      REQUIRE(span.first == next);
      const std::uint64_t size = span.end - span.first;
      REQUIRE(size >= 103 / of);
      REQUIRE(size <= 103 / of + 1);
      next = span.end;
    }
    CHECK(next == 103);
  }
}

TEST_CASE("random combinations depend on seed and number alone", "[combinations]") {
  const std::vector<std::string> axes = {"battery.capacity=7..40 Ah", "regulator.kind=pwm,mppt"};
  const Combinations few = combinations(axes, io::Draws{10, 3});
  const Combinations many = combinations(axes, io::Draws{1000, 3});
  const Combinations other = combinations(axes, io::Draws{1000, 4});
  for (std::uint64_t i = 0; i < 10; ++i) {
    CHECK(told(few, i) == told(many, i));
    CHECK(told(few, i) != told(other, i));
  }
}

TEST_CASE("random combinations are spread evenly over their ranges", "[combinations][property]") {
  constexpr int kDraws = 4000;
  const Combinations all = combinations(
      {"battery.capacity=10..20 Ah", "panel.power=20..60 W:10", "regulator.kind=pwm,mppt"},
      io::Draws{kDraws, 1});
  double sum = 0;
  std::map<std::string, int> powers;
  int pwm = 0;
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const std::vector<io::VariedValue> values = all.at(i);
    REQUIRE(*values[0].number >= 10);
    REQUIRE(*values[0].number <= 20);
    sum += *values[0].number;
    ++powers[values[1].text];
    pwm += values[2].text == "pwm" ? 1 : 0;
  }
  // Four standard errors of a mean of an even spread, and of counts.
  CHECK(std::abs(sum / kDraws - 15) < 4 * 10 / std::sqrt(12.0 * kDraws));
  CHECK(powers.size() == 5);
  for (const auto& [power, count] : powers) {
    CHECK(std::abs(count - kDraws / 5) < 4 * std::sqrt(kDraws * 0.2 * 0.8));
  }
  CHECK(std::abs(pwm - kDraws / 2) < 4 * std::sqrt(kDraws * 0.25));
}

TEST_CASE("more combinations than a double can number are refused", "[combinations][errors]") {
  const std::string wide = "=1..99999:0.0001";  // 999,980,001 values
  CHECK_THROWS_WITH(combinations({"battery.capacity" + wide, "panel.power" + wide}),
                    Catch::Contains("1e+18 combinations are more than can be numbered"));
  CHECK(combinations({"battery.capacity" + wide}).count() == 999980001);
}

TEST_CASE("a field on two axes is refused", "[combinations][errors]") {
  CHECK_THROWS_WITH(combinations({"battery.capacity=7", "battery.capacity=8"}),
                    Catch::Contains("battery.capacity: varies twice"));
}

TEST_CASE("rows of a table are combinations of values as written", "[combinations]") {
  std::vector<io::Problem> problems;
  const std::string text =
      "battery.capacity,\"loads[a, \"\"b\"\"].draw\", regulator.kind\r\n"
      "7 Ah,300 mA,pwm\r\n"
      "\"12\", 0.5 ,\"mppt\"\r\n";
  std::vector<io::Axis> axes;
  axes.emplace_back(rows(text, problems));
  axes.emplace_back(io::parse_vary("panel.power=20,50", false, problems));
  REQUIRE(problems.empty());
  const Combinations all(std::move(axes), {});
  REQUIRE(all.fields().size() == 4);
  CHECK(all.fields()[1].path == "loads[a, \"b\"].draw");
  REQUIRE(all.count() == 4);
  CHECK(told(all, 0) == "7 Ah 300 mA pwm 20");
  CHECK(told(all, 1) == "7 Ah 300 mA pwm 50");
  CHECK(told(all, 2) == "12 0.5 mppt 20");
}

TEST_CASE("a quoted cell of a row may hold commas, quotes and line ends", "[combinations]") {
  std::vector<io::Problem> problems;
  std::vector<io::Axis> axes;
  const std::string rain = "[9,9,9,9,9,9,\r\n9,9,9,9,9,9]";
  axes.emplace_back(
      rows("name,place.rain\r\n"
           "\"one \"\"two\"\", three\",\"" +
               rain +
               "\"\r\n"
               " \"last\" ,\"" +
               rain + "\"\r\n",
           problems));
  REQUIRE(problems.empty());
  const Combinations all(std::move(axes), {});
  REQUIRE(all.count() == 2);
  CHECK(told(all, 0) == "one \"two\", three " + rain);
  CHECK(told(all, 1) == "last " + rain);
  // The lines after it keep their numbers.
  const std::string late = "place.rain,battery.capacity\n\"[9,9,9,9,9,9,\n9,9,9,9,9,9]\",7\n,8\n";
  CHECK(mistake(late).starts_with("rows.csv:4: place.rain: the value is missing"));
}

TEST_CASE("a row that cannot be used is named by its line", "[combinations][errors]") {
  struct Row {
    const char* text;
    const char* told;
  };
  const Row table[] = {
      {"", "rows.csv:1: is empty"},
      {"battery.capacity\n", "rows.csv:1: has no row"},
      {"battery.capcity\n7\n", "rows.csv:1: battery.capcity: the site file has no such field (did"},
      {"battery.capacity,\n7,8\n", "rows.csv:1: a column has no name"},
      {"battery.capacity,panel.power\n7\n", "rows.csv:2: 1 values for 2 fields"},
      {"battery.capacity\n7\n\n8\n", "rows.csv:3: battery.capacity: the value is missing"},
      {"battery.capacity,panel.power\n7,8\n9,\n", "rows.csv:3: panel.power: the value is missing"},
      {"battery.capacity\n7\n8 Ahh\n", "rows.csv:3: battery.capacity: \"8 Ahh\": unknown unit"},
      {"battery.capacity\n\"7\n", "rows.csv:2: a quote is not closed"},
      {"name\nVall\xE9\n", "rows.csv:2: is not UTF-8 text"},
      {"battery.capacity\n\"7\"8\n", "rows.csv:2: a quote is not closed, or text follows"},
      {"loads[p].draw\n1 A\n2 W\n", "rows.csv:3: loads[p].draw: \"2 W\" is in W"},
  };
  for (const Row& row : table) {
    const std::string told = mistake(row.text);
    CAPTURE(row.text, told);
    CHECK(told.starts_with(row.told));
  }
}
