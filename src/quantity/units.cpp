#include "quantity/units.hpp"

#include <cmath>
#include <numbers>

namespace amptally::inline v0_1 {
namespace {

constexpr bool kSpelling = false;

constexpr Unit spelling(std::string_view symbol, double times = 1, double over = 1,
                        double offset = 0) {
  return {symbol, times, over, offset, kSpelling};
}

/// Metres of water in a bar: 1e5 Pa over 1000 kg/m3 and 9.80665 m/s2 (3rd CGPM, 1901).
constexpr double kMetresPerBar = 1e5 / (1000 * 9.80665);
/// Bars in a pound-force per square inch: 0.45359237 kg, 9.80665 m/s2, (0.0254 m)^2.
constexpr double kBarPerPsi = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1e5;
/// Metres in an inch and a foot: international yard and pound agreement, 1959.
constexpr double kMetresPerInch = 0.0254;
constexpr double kMetresPerFoot = 0.3048;

constexpr Unit kCurrent[] = {{"A"},
                             {"mA", 1, 1000},
                             {"uA", 1, 1e6},
                             // The micro sign and the Greek letter look alike, and are two
                             // characters.
                             spelling("µA", 1, 1e6),
                             spelling("μA", 1, 1e6),
                             spelling("amp"),
                             spelling("amps"),
                             spelling("amperes")};
constexpr Unit kPower[] = {
    {"W"}, {"mW", 1, 1000}, {"kW", 1000}, spelling("watt"), spelling("watts"), spelling("Wp")};
constexpr Unit kVoltage[] = {{"V"}, {"mV", 1, 1000}, spelling("volt"), spelling("volts")};
constexpr Unit kCharge[] = {{"Ah"}, {"mAh", 1, 1000}};
constexpr Unit kShare[] = {{"%", 1, 100}, spelling("percent", 1, 100)};
constexpr Unit kMinutes[] = {{"min"},
                             {"s", 1, 60},
                             {"h", 60},
                             spelling("minute"),
                             spelling("minutes"),
                             spelling("sec", 1, 60),
                             spelling("seconds", 1, 60),
                             spelling("hour", 60),
                             spelling("hours", 60)};
constexpr Unit kHours[] = {
    {"h"}, {"min", 1, 60}, spelling("hour"), spelling("hours"), spelling("minutes", 1, 60)};
constexpr Unit kDays[] = {{"days"},
                          {"weeks", 7},
                          {"h", 1, 24},
                          spelling("d"),
                          spelling("day"),
                          spelling("week", 7),
                          spelling("hours", 1, 24)};
constexpr Unit kYears[] = {{"years"},     {"months", 1, 12}, spelling("year"),
                           spelling("y"), spelling("a"),     spelling("month", 1, 12)};
constexpr Unit kLength[] = {{"m"},
                            {"cm", 1, 100},
                            {"mm", 1, 1000},
                            {"km", 1000},
                            {"ft", kMetresPerFoot},
                            {"in", kMetresPerInch},
                            spelling("metre"),
                            spelling("metres"),
                            spelling("meter"),
                            spelling("meters")};
constexpr Unit kBore[] = {{"mm"}, {"cm", 10}, {"in", 1000 * kMetresPerInch}, spelling("m", 1000)};
constexpr Unit kSection[] = {{"mm2"}, {"AWG"}, spelling("mm²"), spelling("mm^2"), spelling("awg")};
constexpr Unit kArea[] = {{"m2"}, spelling("m²"), spelling("m^2")};
constexpr Unit kVolume[] = {{"L"},
                            {"ml", 1, 1000},
                            {"m3", 1000},
                            spelling("l"),
                            spelling("mL", 1, 1000),
                            spelling("m³", 1000),
                            spelling("litre"),
                            spelling("litres"),
                            spelling("liter"),
                            spelling("liters")};
constexpr Unit kFlow[] = {{"L/h"},
                          {"L/min", 60},
                          {"L/day", 1, 24},
                          {"m3/h", 1000},
                          spelling("l/h"),
                          spelling("l/min", 60),
                          spelling("l/day", 1, 24),
                          spelling("m³/h", 1000),
                          spelling("ml/min", 60, 1000),
                          spelling("mL/min", 60, 1000)};
constexpr Unit kHead[] = {{"m"},
                          {"bar", kMetresPerBar},
                          {"kPa", kMetresPerBar, 100},
                          {"psi", kBarPerPsi* kMetresPerBar},
                          {"ft", kMetresPerFoot},
                          spelling("mbar", kMetresPerBar, 1000),
                          spelling("cm", 1, 100)};
constexpr Unit kAngle[] = {{"deg"}, spelling("°"), spelling("degree"), spelling("degrees")};
constexpr Unit kTemperature[] = {{"deg C"},
                                 // (F - 32) x 5/9, so the offset is -32 x 5/9.
                                 {"deg F", 5, 9, -160.0 / 9},
                                 {"K", 1, 1, -273.15},
                                 spelling("°C"),
                                 spelling("C"),
                                 spelling("degC"),
                                 spelling("°F", 5, 9, -160.0 / 9),
                                 spelling("F", 5, 9, -160.0 / 9)};
constexpr Unit kSharePerKelvin[] = {
    {"%/K"}, spelling("%/C"), spelling("%/°C"), spelling("%/degC"), spelling("%/deg C")};
constexpr Unit kSharePerMonth[] = {{"%/month"}};
constexpr Unit kDailyIrradiation[] = {
    {"kWh/m2/day"},         {"MJ/m2/day", 1, 3.6},         {"W/m2", 24, 1000},
    spelling("kWh/m²/day"), spelling("MJ/m²/day", 1, 3.6), spelling("W/m²", 24, 1000),
    spelling("kWh/m2/d"),   spelling("MJ/m2/d", 1, 3.6)};
constexpr Unit kRain[] = {{"mm/month"}, {"mm"}};
constexpr Unit kNumber[] = {{""}};

/// In the order of `Dimension`.
constexpr Family kFamilies[] = {
    {Dimension::current, "a current", kCurrent},
    {Dimension::power, "a power", kPower},
    {Dimension::voltage, "a voltage", kVoltage},
    {Dimension::charge, "a charge", kCharge},
    {Dimension::share, "a share", kShare},
    {Dimension::minutes, "a time", kMinutes},
    {Dimension::hours, "a time", kHours},
    {Dimension::days, "a time", kDays},
    {Dimension::years, "a time", kYears},
    {Dimension::length, "a length", kLength},
    {Dimension::bore, "a length", kBore},
    {Dimension::section, "a wire section", kSection},
    {Dimension::area, "an area", kArea},
    {Dimension::volume, "a volume", kVolume},
    {Dimension::flow, "a flow", kFlow},
    {Dimension::head, "a head of water", kHead},
    {Dimension::angle, "an angle", kAngle},
    {Dimension::temperature, "a temperature", kTemperature},
    {Dimension::share_per_kelvin, "a change per kelvin", kSharePerKelvin},
    {Dimension::share_per_month, "a loss per month", kSharePerMonth},
    {Dimension::daily_irradiation, "a daily insolation", kDailyIrradiation},
    {Dimension::rain, "a rainfall", kRain},
    {Dimension::number, "a plain number", kNumber},
};

}  // namespace

std::span<const Family> families() { return kFamilies; }

const Family& family(Dimension dimension) { return kFamilies[static_cast<std::size_t>(dimension)]; }

std::vector<std::string_view> listed_symbols(std::span<const Dimension> accepted) {
  std::vector<std::string_view> out;
  for (const Dimension dimension : accepted) {
    for (const Unit& unit : family(dimension).units) {
      if (unit.listed && !unit.symbol.empty()) out.push_back(unit.symbol);
    }
  }
  return out;
}

std::optional<UnitMatch> find_unit(std::string_view symbol, std::span<const Dimension> accepted) {
  for (const Dimension dimension : accepted) {
    for (const Unit& unit : family(dimension).units) {
      if (unit.symbol == symbol) return UnitMatch{dimension, &unit};
    }
  }
  return std::nullopt;
}

std::string_view base_unit(Dimension dimension) { return family(dimension).units.front().symbol; }

std::vector<std::string_view> unit_symbols(Dimension dimension) {
  const Dimension only[] = {dimension};
  return listed_symbols(only);
}

double awg_section_mm2(int gauge) {
  const double diameter_mm = 0.127 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return std::numbers::pi / 4 * diameter_mm * diameter_mm;
}

}  // namespace amptally::inline v0_1
