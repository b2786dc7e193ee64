#include "sitefile/load_text.hpp"

#include "amptally/error.hpp"

#include "catch.hpp"

using namespace amptally;
using io::load_object;

TEST_CASE("a load in one line becomes an object of the site file", "[io][load]") {
  CHECK(load_object("valve: 300 mA, 20 min/day") ==
        R"({"name":"valve","draw":"300 mA","per_day":"20 min"})");
  CHECK(
      load_object("  second pump :2 A ,10 min/day at 06:30 Apr-Sep") ==
      R"({"name":"second pump","draw":"2 A","months":"Apr-Sep","runs":[{"at":"06:30","for":"10 min"}]})");
  CHECK(
      load_object("pump: 2 A, 10 min/day Apr-Sep at 06:30") ==
      R"({"name":"pump","draw":"2 A","months":"Apr-Sep","runs":[{"at":"06:30","for":"10 min"}]})");
  CHECK(load_object("sensor: 5 mA") == R"({"name":"sensor","draw":"5 mA","always":true})");
  CHECK(load_object("lamp: 250..300 mA, 1.5 h/day") ==
        R"({"name":"lamp","draw":"250..300 mA","per_day":"1.5 h"})");
}

TEST_CASE("a line that is no load says how one is written", "[io][load][errors]") {
  const auto message = [](std::string_view text) {
    try {
      (void)load_object(text);
    } catch (const InputError& e) {
      return std::string(e.what());
    }
    return std::string();
  };
  for (const std::string_view text :
       {"", "valve", "300 mA, 20 min/day", ": 300 mA, 20 min/day", "valve:", "valve: , 20 min/day",
        "valve: 300 mA, 20 min", "valve: 300 mA, 20 min/week", "valve: 300 mA, 20 min/day at",
        "valve: 300 mA, 20 min/day Apr-Sep twice", "val\xffve: 300 mA, 20 min/day"}) {
    CAPTURE(text);
    CHECK(message(text).find("NAME: DRAW, TIME/day") != std::string::npos);
  }
}
