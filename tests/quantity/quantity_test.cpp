#include "amptally/quantity.hpp"

#include <clocale>
#include <string>

#include "amptally/error.hpp"

#include "catch.hpp"
#include "skipped.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr Dimension kDraw[] = {Dimension::current, Dimension::power};

/// The message that reading `text` gives; empty if it reads well.
std::string message(std::string_view text, std::span<const Dimension> accepted = kDraw) {
  try {
    (void)parse_quantity(text, accepted);
    return {};
  } catch (const InputError& error) {
    CHECK(error.field().empty());
    return error.message();
  }
}

std::string message(std::string_view text, Dimension accepted) {
  const Dimension only[] = {accepted};
  return message(text, only);
}

}  // namespace

TEST_CASE("a quantity is read into the base unit, exactly where decimals allow", "[quantity]") {
  struct Row {
    std::string_view text;
    Dimension dimension;
    double value;
  };
  const Row row = GENERATE(values<Row>({
      {"350 mA", Dimension::current, 0.35},
      {"350mA", Dimension::current, 0.35},
      {" 350\u00A0mA ", Dimension::current, 0.35},
      {"120 µA", Dimension::current, 0.00012},
      {"0.06 kW", Dimension::power, 60},
      {"7200 mAh", Dimension::charge, 7.2},
      {"50 %", Dimension::share, 0.5},
      {"90 s", Dimension::minutes, 1.5},
      {"1.5 h", Dimension::minutes, 90},
      {"90 min", Dimension::hours, 1.5},
      {"2 weeks", Dimension::days, 14},
      {"18 months", Dimension::years, 1.5},
      {"50 cm", Dimension::length, 0.5},
      {"1/0 AWG", Dimension::section, awg_section_mm2(0)},
      {"0.75 mm²", Dimension::section, 0.75},
      {"160 l", Dimension::volume, 160},
      {"1.5 m3", Dimension::volume, 1500},
      {"4 L/min", Dimension::flow, 240},
      {"−6.5 °C", Dimension::temperature, -6.5},
      {"273.15 K", Dimension::temperature, 0},
      {"68 deg F", Dimension::temperature, 20},
      {"-0.3 %/°C", Dimension::share_per_kelvin, -0.3},
      {"3 %/month", Dimension::share_per_month, 3},
      {"18 MJ/m2/day", Dimension::daily_irradiation, 5},
      {"125 W/m2", Dimension::daily_irradiation, 3},
      {"1e3 mA", Dimension::current, 1},
      {"+5 A", Dimension::current, 5},
      {"1.15", Dimension::number, 1.15},
  }));
  CAPTURE(row.text);
  const Quantity quantity = parse_quantity(row.text, row.dimension);
  CHECK_THAT(quantity.middle, WithinRel(row.value, 1e-15) || WithinAbs(row.value, 1e-12));
  CHECK(quantity.dimension == row.dimension);
  CHECK_FALSE(quantity.is_rough());
}

TEST_CASE("units have the published figures that define them", "[quantity][printed-outside]") {
  // International yard and pound agreement, 1959: 1 ft = 0.3048 m, exactly.
  CHECK_THAT(parse_quantity("30 ft", Dimension::length).middle, WithinRel(9.144, 1e-15));
  CHECK_THAT(parse_quantity("0.5 in", Dimension::bore).middle, WithinRel(12.7, 1e-15));
  // A bar of water at 1000 kg/m3 and standard gravity (9.80665 m/s2, 3rd CGPM 1901): 10.1972 m, as
  // conversion tables print it.
  CHECK_THAT(parse_quantity("1 bar", Dimension::head).middle, WithinAbs(10.1972, 0.00005));
  CHECK_THAT(parse_quantity("100 kPa", Dimension::head).middle, WithinAbs(10.1972, 0.00005));
  // 1 psi = 6894.757 Pa, so 0.70307 m of water.
  CHECK_THAT(parse_quantity("1 psi", Dimension::head).middle, WithinAbs(0.70307, 0.000005));
}

TEST_CASE("wire gauges have the sections of the AWG table", "[quantity][printed-outside]") {
  // NEC Chapter 9 Table 8 (2014), solid conductors, area in mm2 (from memory): 18 AWG 0.823,
  // 14 AWG 2.08, 10 AWG 5.261, 4/0 AWG 107.2.
  CHECK_THAT(awg_section_mm2(18), WithinAbs(0.823, 0.0005));
  CHECK_THAT(awg_section_mm2(14), WithinAbs(2.08, 0.005));
  CHECK_THAT(awg_section_mm2(10), WithinAbs(5.261, 0.0005));
  CHECK_THAT(parse_quantity("4/0 AWG", Dimension::section).middle, WithinAbs(107.2, 0.05));
}

TEST_CASE("a rough quantity keeps its ends", "[quantity]") {
  struct Row {
    std::string_view text;
    double low;
    double middle;
    double high;
  };
  const Row row = GENERATE(values<Row>({
      {"300..400 mA", 0.3, 0.35, 0.4},
      {"300 mA .. 0.4 A", 0.3, 0.35, 0.4},
      {"300 mA..400", 0.3, 0.35, 0.4},
      {"350 +- 50 mA", 0.3, 0.35, 0.4},
      {"350 ± 50 mA", 0.3, 0.35, 0.4},
      {"350 mA +/- 50 mA", 0.3, 0.35, 0.4},
      {"0.35 A +- 50 mA", 0.3, 0.35, 0.4},
      {"350 mA +- 10 %", 0.315, 0.35, 0.385},
      {"-1..1 A", -1, 0, 1},
  }));
  CAPTURE(row.text);
  const Quantity quantity = parse_quantity(row.text, kDraw);
  CHECK(quantity.is_rough());
  CHECK_THAT(quantity.low, WithinAbs(row.low, 1e-15));
  CHECK_THAT(quantity.middle, WithinAbs(row.middle, 1e-15));
  CHECK_THAT(quantity.high, WithinAbs(row.high, 1e-15));
}

TEST_CASE("tolerances in per cent, kelvin and gauges mean what they say", "[quantity]") {
  const Quantity share = parse_quantity("50 % +- 10 %", Dimension::share);
  CHECK_THAT(share.low, WithinAbs(0.4, 1e-15));  // points, not a tenth of the middle
  const Quantity warm = parse_quantity("20 deg C +- 5 K", Dimension::temperature);
  CHECK_THAT(warm.low, WithinAbs(15, 1e-12));
  CHECK_THAT(warm.high, WithinAbs(25, 1e-12));
  const Quantity wire = parse_quantity("16..18 AWG", Dimension::section);
  CHECK(wire.low == awg_section_mm2(18));
  CHECK(wire.high == awg_section_mm2(16));
}

TEST_CASE("a quantity may have any of the dimensions accepted, not the first alone", "[quantity]") {
  CHECK(parse_quantity("4 W", kDraw).dimension == Dimension::power);
  CHECK(parse_quantity("4 A", kDraw).dimension == Dimension::current);
}

TEST_CASE("a wrong quantity is told what would do", "[quantity][errors]") {
  CHECK(message("7 Ahh", Dimension::charge) == R"("7 Ahh": unknown unit "Ahh" (did you mean Ah?))");
  CHECK(message("7,5 Ah", Dimension::charge) == R"("7,5 Ah": a decimal comma (write "7.5 Ah"))");
  CHECK(message("1,500 mA") == R"("1,500 mA": a decimal comma (write "1.500 mA" or "1500 mA"))");
  CHECK(message("350") == R"("350": the unit is missing (allowed: A, mA, uA, W, mW, kW))");
  CHECK(message("350 ma") == R"("350 ma": unknown unit "ma" (did you mean mA?))");
  CHECK(message("350 mV") == R"("350 mV": mV is a voltage (allowed here: A, mA, uA, W, mW, kW))");
  CHECK(message("400..300 mA") ==
        R"("400..300 mA": the range is upside down (write "300..400 mA"))");
  CHECK(message("1 A..300 mA") ==
        R"("1 A..300 mA": the range is upside down (write "300 mA..1 A"))");
  CHECK(message("300-400 mA") ==
        R"("300-400 mA": a range is written with two dots (write "300..400 mA"))");
  CHECK(message("about 350 mA") ==
        R"("about 350 mA": a rough value is written as a range (such as "315..385 mA"))");
  CHECK(message("~350 mA") ==
        R"("~350 mA": a rough value is written as a range (such as "315..385 mA"))");
  CHECK(message("350 mA each") == R"("350 mA each": "each" after the unit is not understood)");
  CHECK(message("1..2..3 A") == R"("1..2..3 A": ".." stands twice (a range has two ends))");
}

TEST_CASE("what is no finite number is refused", "[quantity][errors]") {
  const std::string_view text =
      GENERATE(as<std::string_view>(), "", " ", "mA", "nan A", "NaN", "inf A", "-infinity A",
               "1e999 A", "1e308 kW", "-1e400 A", "1..inf A", "1 +- nan A", "--5 A", "0x1F A", ".",
               "..", "+-", "1..", "..1 A", "1 +-", "e5 A", "\xFF\xFE", "5 A\n");
  CAPTURE(text);
  const std::string said = message(text);
  CHECK_FALSE(said.empty());
  CHECK(said.find('\n') == std::string::npos);
}

TEST_CASE("a negative tolerance and a broken gauge are refused", "[quantity][errors]") {
  CHECK(message("350 +- -50 mA").find("negative") != std::string::npos);
  CHECK(message("18.5 AWG", Dimension::section).find("whole number") != std::string::npos);
  CHECK(message("41 AWG", Dimension::section).find("4/0..40") != std::string::npos);
  CHECK(message("16 AWG +- 10 %", Dimension::section).find("takes no tolerance") !=
        std::string::npos);
  CHECK(message("3 V", Dimension::number).find("plain number") != std::string::npos);
}

TEST_CASE("a long or garbled value stays one short line", "[quantity][errors]") {
  CHECK(message(std::string(100000, 'x')).size() < 300);
  CHECK(message("5 \x1B[31m").find('\x1B') == std::string::npos);
}

TEST_CASE("numbers do not depend on the locale", "[quantity]") {
  const char* found = nullptr;
  for (const char* name : {"de_DE.UTF-8", "es_ES.UTF-8", "fr_FR.UTF-8"}) {
    if (!found) found = std::setlocale(LC_ALL, name);
  }
  if (!found) return testing::skipped("no locale with a decimal comma is installed");
  CHECK_THAT(parse_quantity("7.5 Ah", Dimension::charge).middle, WithinRel(7.5, 1e-15));
  CHECK(message("7,5 Ah", Dimension::charge).find("7.5 Ah") != std::string::npos);
  std::setlocale(LC_ALL, "C");
}

TEST_CASE("every dimension has a base unit that reads back as itself", "[quantity]") {
  for (int i = 0; i <= static_cast<int>(Dimension::number); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    const std::string text = "5 " + std::string(base_unit(dimension));
    CAPTURE(text);
    const double expected = dimension == Dimension::share ? 0.05 : 5;
    CHECK_THAT(parse_quantity(text, dimension).middle, WithinRel(expected, 1e-15));
    for (const std::string_view symbol : unit_symbols(dimension)) {
      CHECK_NOTHROW(parse_quantity("5 " + std::string(symbol), dimension));
    }
  }
}
