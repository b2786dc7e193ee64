#include "sitefile/vary_text.hpp"

#include "amptally/error.hpp"

#include "catch.hpp"

using namespace amptally;
using io::FieldAxis;

namespace {

/// All values of an axis, as texts.
std::vector<std::string> values_of(const FieldAxis& axis) {
  std::vector<std::string> texts;
  for (const FieldAxis::Member& member : axis.members) {
    if (const auto* const range = std::get_if<io::SteppedRange>(&member)) {
      for (std::uint64_t i = 0; i < range->count; ++i) texts.push_back(range->text(i));
    } else {
      texts.push_back(std::get<io::VariedValue>(member).text);
    }
  }
  return texts;
}

/// What is wrong with a line, whichever way it is told; empty: nothing.
std::string mistake(const std::string& text, bool drawn = false) {
  std::vector<io::Problem> problems;
  try {
    (void)io::parse_vary(text, drawn, problems);
  } catch (const InputError& error) {
    return error.what();
  }
  return problems.empty() ? "" : problems.front().field + ": " + problems.front().message;
}

}  // namespace

TEST_CASE("a list or range to vary has the values that are written", "[vary]") {
  using Values = std::vector<std::string>;
  struct Row {
    const char* text;
    Values values;
  };
  const Row rows[] = {
      {"battery.capacity=7..19 Ah:3", {"7 Ah", "10 Ah", "13 Ah", "16 Ah", "19 Ah"}},
      {"battery.capacity=7..18 Ah:3", {"7 Ah", "10 Ah", "13 Ah", "16 Ah"}},
      {"battery.capacity=7..7:3", {"7"}},
      {"loads[pump].draw=300..400mA:50", {"300 mA", "350 mA", "400 mA"}},
      {"loads[pump].draw=300 mA .. 400 mA : 50 mA", {"300 mA", "350 mA", "400 mA"}},
      {"loads[a=b].draw=1,2", {"1", "2"}},
      {"battery.floor=30..50 %:10", {"30 %", "40 %", "50 %"}},
      {"place.record_low=-20..-10 deg C:5", {"-20 deg C", "-15 deg C", "-10 deg C"}},
      {"battery.parallel=1..3:1", {"1", "2", "3"}},
      {"wiring[0].section=12..16 AWG:2", {"12 AWG", "14 AWG", "16 AWG"}},
      {"panel.power=20,50,100", {"20", "50", "100"}},
      {"panel.power=20 W, 50 W", {"20 W", "50 W"}},
      {"loads[pump].draw=300,400,500 mA", {"300 mA", "400 mA", "500 mA"}},
      {"loads[pump].draw=300,400..500:50,600 mA",
       {"300 mA", "400 mA", "450 mA", "500 mA", "600 mA"}},
      {"loads[pump].draw=300..400 mA,1 A", {"300..400 mA", "1 A"}},  // a rough one among others
      {"loads[pump].per_day=20 min,1 h", {"20 min", "1 h"}},
      {"regulator.kind=pwm,\"mppt\"", {"pwm", "mppt"}},
      {"name=\"a, b\",c", {"a, b", "c"}},
      {"loads[0].months=[\"Jun\",\"Jul\"],Oct-Apr", {"[\"Jun\",\"Jul\"]", "Oct-Apr"}},
      {"panel.shade[0].azimuth=90..150 deg", {"90..150 deg"}},  // an extent, not a range
      {"loads[0].runs[0].at=06:30,18:00", {"06:30", "18:00"}},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    std::vector<io::Problem> problems;
    const FieldAxis axis = io::parse_vary(row.text, false, problems);
    CHECK(problems.empty());
    CHECK(values_of(axis) == row.values);
  }
}

TEST_CASE("a range gathers no rounding and reaches its end", "[vary]") {
  std::vector<io::Problem> problems;
  const FieldAxis axis = io::parse_vary("battery.capacity=0.1..1000 Ah:0.1", false, problems);
  const auto& range = std::get<io::SteppedRange>(axis.members.front());
  REQUIRE(range.count == 10000);
  CHECK(range.text(2) == "0.3 Ah");  // 0.1 + 2 * 0.1 in doubles is 0.30000000000000004
  CHECK(range.text(9999) == "1000 Ah");
  for (std::uint64_t i = 0; i < range.count; ++i) {
    REQUIRE(range.text(i).size() <= std::string("1000.1 Ah").size());
  }
}

TEST_CASE("a range without a step is drawn from, ends included", "[vary]") {
  std::vector<io::Problem> problems;
  const FieldAxis axis = io::parse_vary("loads[pump].draw=300..500mA", true, problems);
  const auto& range = std::get<io::OpenRange>(axis.members.front());
  CHECK(range.text(0) == "300 mA");
  CHECK(range.text(0.25) == "350 mA");
  CHECK(range.text(1) == "500 mA");
}

TEST_CASE("numbers to vary without a unit are in the field's base unit", "[vary]") {
  std::vector<io::Problem> problems;
  const FieldAxis draw = io::parse_vary("loads[pump].draw=350 mA,0.3..0.4 A", false, problems);
  CHECK(*std::get<io::VariedValue>(draw.members[0]).number == 0.35);
  CHECK(*std::get<io::VariedValue>(draw.members[1]).number == 0.35);  // the middle
  CHECK(draw.field.dimension == Dimension::current);
  const FieldAxis kind = io::parse_vary("regulator.kind=pwm", false, problems);
  CHECK_FALSE(std::get<io::VariedValue>(kind.members[0]).number);
  CHECK_FALSE(kind.field.dimension);
}

TEST_CASE("values to vary that cannot be used are refused in one line", "[vary][errors]") {
  struct Row {
    const char* text;
    const char* told;
  };
  const Row rows[] = {
      {"battery.capacity", "is not PATH=VALUES (such as battery.capacity='7..40 Ah:3')"},
      {"=7", "is not PATH=VALUES"},
      {"name=Vall\xE9", "is not UTF-8 text"},
      {"battery.capcity=7", "no such field (did you mean battery.capacity?)"},
      {"capacity=7", "no such field (did you mean battery.capacity?)"},
      {"battery.capacity=", "a value is empty"},
      {"battery.capacity=7,,8", "a value is empty"},
      {"battery.capacity=7..40", "\"7..40\" has no step (write 7..40:STEP; with --random"},
      {"battery.capacity=7..40:0", "the step is not above 0"},
      {"battery.capacity=7..40:-3", "the step is not above 0"},
      {"battery.capacity=40..7:3", "upside down (40 is above 7)"},
      {"battery.capacity=nan..7:1", "is not A..B:STEP in plain numbers"},
      {"battery.capacity=7..inf:1", "is not A..B:STEP in plain numbers"},
      {"battery.capacity=7..40:nan", "is not A..B:STEP in plain numbers"},
      {"battery.capacity=7..40:", "is not A..B:STEP in plain numbers"},
      {"battery.capacity=7..1234567890123456:1", "is not A..B:STEP in plain numbers"},
      {"battery.capacity=0.0000000001..1000000:1", "more than 15 digits are needed"},
      {"battery.capacity=7 Ah..9000 mAh:1", "\"Ah\" and \"mAh\" in one range"},
      {"battery.capacity=7..40 Ahh:1", "unknown unit \"Ahh\" (did you mean Ah?)"},
      {"battery.capacity=7,8 Ahh", "unknown unit \"Ahh\" (did you mean Ah?)"},
      {"battery.capacity=0..7:1", "0 is not above 0 and up to 100000 Ah"},
      {"battery.capacity=1..200000:1", "is not above 0 and up to 100000 Ah"},
      {"battery.capacity=nan", "not a finite number"},
      {"battery.parallel=1..3:0.5", "1.5 is not a whole number"},
      {"regulator.kind=pwm,mpt", "(did you mean \"mppt\"?)"},
      {"loads[pump].draw=1 A,2 W", "\"2 W\" is in W, a value before it in A"},
      {"loads[pump].draw=300 mA,400", "some values have a unit and some have none"},
      {"loads[pump].draw=300,1 A,400 mA", "some values have a unit and some have none"},
      {"loads[0].runs[0].at=25:00", "25:00"},
  };
  for (const Row& row : rows) {
    const std::string told = mistake(row.text);
    CAPTURE(row.text, told);
    CHECK(told.find(row.told) != std::string::npos);
    CHECK(told.find('\n') == std::string::npos);
  }
  // To be drawn from, a range of whole things still needs its step.
  CHECK(mistake("battery.capacity=7..40", true).empty());
  CHECK(mistake("battery.parallel=1..3", true).find("has no step") != std::string::npos);
  CHECK(mistake("battery.capacity=0..40", true).find("above 0") != std::string::npos);
}
