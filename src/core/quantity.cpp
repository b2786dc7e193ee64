#include "amptally/quantity.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "core/letters.hpp"
#include "core/quote.hpp"
namespace amptally {

namespace {

// ---- Units ---------------------------------------------------------------------------------

/// base = number * times / over + offset. Kept as two factors so that "350 mA" is exactly 0.35.
struct Unit {
  std::string_view symbol;
  double times = 1;
  double over = 1;
  double offset = 0;
  bool listed = true;  ///< named in messages; the others are spellings that are understood
};

constexpr bool kSpelling = false;

constexpr Unit spelling(std::string_view symbol, double times = 1, double over = 1,
                        double offset = 0) {
  return {symbol, times, over, offset, kSpelling};
}

/// Metres of water in a bar: 1e5 Pa over 1000 kg/m3 and 9.80665 m/s2 (3rd CGPM, 1901).
constexpr double kMetresPerBar = 1e5 / (1000 * 9.80665);
/// Pascals in a pound-force per square inch: 0.45359237 kg, 9.80665 m/s2, (0.0254 m)^2.
constexpr double kBarPerPsi = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1e5;
/// Metres in an inch and a foot: international yard and pound agreement, 1959.
constexpr double kMetresPerInch = 0.0254;
constexpr double kMetresPerFoot = 0.3048;

constexpr Unit kCurrent[] = {{"A"},
                             {"mA", 1, 1000},
                             {"uA", 1, 1e6},
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

struct Family {
  Dimension dimension;
  std::string_view noun;
  std::span<const Unit> units;  ///< base unit first
};

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

const Family& family(Dimension dimension) { return kFamilies[static_cast<std::size_t>(dimension)]; }

using Accepted = std::span<const Dimension>;

std::vector<std::string_view> listed_symbols(Accepted accepted) {
  std::vector<std::string_view> out;
  for (const Dimension dimension : accepted) {
    for (const Unit& unit : family(dimension).units) {
      if (unit.listed && !unit.symbol.empty()) out.push_back(unit.symbol);
    }
  }
  return out;
}

struct Match {
  Dimension dimension;
  const Unit* unit;
};

std::optional<Match> find_unit(std::string_view symbol, Accepted accepted) {
  for (const Dimension dimension : accepted) {
    for (const Unit& unit : family(dimension).units) {
      if (unit.symbol == symbol) return Match{dimension, &unit};
    }
  }
  return std::nullopt;
}

// ---- Text ----------------------------------------------------------------------------------

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

/// One kind of blank, and one spelling of each sign: what phones and word processors put in.
std::string plain(std::string_view text) {
  std::string out(text);
  replace_all(out, "\u00A0", " ");
  replace_all(out, "\u202F", " ");
  replace_all(out, "\t", " ");
  replace_all(out, "\u2212", "-");
  replace_all(out, "\u00B1", "+-");
  replace_all(out, "+/-", "+-");
  return std::string(trimmed(out));
}

// ---- Parsing -------------------------------------------------------------------------------

/// A number and the unit behind it, which may be empty.
struct Term {
  double number = 0;
  std::string_view unit;
};

class Parser {
 public:
  Parser(std::string_view text, Accepted accepted)
      : given_(text), text_(plain(text)), accepted_(accepted) {}

  Quantity parse() {
    refuse_vague_words();
    const std::string_view text = text_;
    if (const auto at = text.find(".."); at != text.npos) {
      const std::string_view right = text.substr(at + 2);
      if (right.find("..") != right.npos) fail("\"..\" stands twice (a range has two ends)");
      return range(text.substr(0, at), right);
    }
    if (const auto at = text.find("+-"); at != text.npos) {
      return tolerance(text.substr(0, at), text.substr(at + 2));
    }
    const Term term = read_term(text);
    const Match match = resolve(term.unit);
    const double value = to_base(term.number, match);
    return {value, value, value, match.dimension};
  }

 private:
  [[noreturn]] void fail(const std::string& message) const {
    throw InputError("", in_quotes(given_) + ": " + message);
  }

  Quantity range(std::string_view left, std::string_view right) const {
    Term from = read_term(left);
    Term to = read_term(right);
    if (from.unit.empty()) from.unit = to.unit;
    if (to.unit.empty()) to.unit = from.unit;
    const auto [match, low, high] = same_kind(from, to);
    // A higher gauge is a thinner wire, so either order of gauges is a range.
    const bool by_gauge = is_gauge(*match.unit);
    if (low > high && !by_gauge) {
      fail(fmt::format("the range is upside down (write {})", in_quotes(turned(from, to))));
    }
    const auto [least, most] = std::minmax(low, high);
    return {least, (least + most) / 2, most, match.dimension};
  }

  Quantity tolerance(std::string_view left, std::string_view right) const {
    Term middle = read_term(left);
    Term spread = read_term(right);
    if (!(spread.number >= 0)) fail("the tolerance is negative (write it without its minus sign)");
    const bool of_the_middle = spread.unit == "%" && !middle.unit.empty() && middle.unit != "%" &&
                               middle.unit != "percent";
    if (middle.unit.empty() && spread.unit != "%") middle.unit = spread.unit;
    if (middle.unit.empty() && find_unit("%", accepted_)) middle.unit = spread.unit;
    const Match match = resolve(middle.unit);
    if (is_gauge(*match.unit))
      fail("a gauge takes no tolerance (write a range such as \"16..18 AWG\")");
    // The spread in the middle's own unit, so that "350 +- 50 mA" is 0.3..0.4 A to the last digit.
    double half = spread.number;
    if (of_the_middle || (match.dimension == Dimension::number && spread.unit == "%")) {
      half = std::abs(middle.number) * spread.number / 100;
    } else if (!spread.unit.empty() && spread.unit != middle.unit) {
      const Match other = resolve(spread.unit);
      if (other.dimension != match.dimension) fail("value and tolerance are of different kinds");
      half *= other.unit->times / other.unit->over * match.unit->over / match.unit->times;
    }
    return {to_base(middle.number - half, match), to_base(middle.number, match),
            to_base(middle.number + half, match), match.dimension};
  }

  struct Ends {
    Match match;
    double low;
    double high;
  };

  Ends same_kind(const Term& from, const Term& to) const {
    const Match first = resolve(from.unit);
    const Match second = resolve(to.unit);
    if (first.dimension != second.dimension)
      fail("the two ends of the range are of different kinds");
    return {first, to_base(from.number, first), to_base(to.number, second)};
  }

  static std::string turned(const Term& from, const Term& to) {
    if (from.unit == to.unit) return fmt::format("{}..{} {}", to.number, from.number, to.unit);
    return fmt::format("{} {}..{} {}", to.number, to.unit, from.number, from.unit);
  }

  Term read_term(std::string_view part) const {
    part = trimmed(part);
    if (const auto aught = read_aught_gauge(part)) return *aught;
    const std::size_t sign = !part.empty() && (part[0] == '+' || part[0] == '-') ? 1 : 0;
    const std::string_view digits = part.substr(sign);
    const bool has_number =
        !digits.empty() &&
        (is_digit(digits[0]) || (digits[0] == '.' && digits.size() > 1 && is_digit(digits[1])));
    if (!has_number) fail_without_number(digits);
    Term term;
    const char* end = digits.data() + digits.size();
    const auto [stop, error] = std::from_chars(digits.data(), end, term.number);
    if (error != std::errc()) fail("the number is too large or too small to work with");
    if (sign == 1 && part[0] == '-') term.number = -term.number;
    const std::string_view rest(stop, static_cast<std::size_t>(end - stop));
    refuse_comma(rest);
    refuse_dash_range(rest);
    term.unit = trimmed(rest);
    return term;
  }

  /// "4/0 AWG" is the gauge -3.
  static std::optional<Term> read_aught_gauge(std::string_view part) {
    if (part.size() < 3 || part[0] < '1' || part[0] > '4' || part.substr(1, 2) != "/0") {
      return std::nullopt;
    }
    return Term{1.0 - (part[0] - '0'), trimmed(part.substr(3))};
  }

  [[noreturn]] void fail_without_number(std::string_view digits) const {
    for (const std::string_view word : {"nan", "inf"}) {
      if (digits.size() >= 3 && std::equal(word.begin(), word.end(), digits.begin(),
                                           [](char a, char b) { return a == lower(b); })) {
        fail("not a finite number");
      }
    }
    const std::vector<std::string_view> symbols = listed_symbols(accepted_);
    if (symbols.empty()) fail("a number is expected");
    fail(fmt::format("a number with its unit is expected (allowed: {})", fmt::join(symbols, ", ")));
  }

  void refuse_comma(std::string_view rest) const {
    if (rest.size() < 2 || rest[0] != ',' || !is_digit(rest[1])) return;
    const std::size_t decimals = rest.find_first_not_of("0123456789", 1) == rest.npos
                                     ? rest.size() - 1
                                     : rest.find_first_not_of("0123456789", 1) - 1;
    std::string pointed = text_;
    std::replace(pointed.begin(), pointed.end(), ',', '.');
    std::string hint = in_quotes(pointed);
    if (decimals == 3) {  // may have been meant to part the thousands
      std::string joined = text_;
      joined.erase(std::remove(joined.begin(), joined.end(), ','), joined.end());
      hint += " or " + in_quotes(joined);
    }
    fail(fmt::format("a decimal comma (write {})", hint));
  }

  void refuse_dash_range(std::string_view rest) const {
    for (const std::string_view dash : {"-", "\u2013", "\u2014", " - ", " \u2013 ", " to "}) {
      if (!rest.starts_with(dash) || rest.size() == dash.size()) continue;
      if (!is_digit(rest[dash.size()])) continue;
      std::string dotted = text_;
      replace_all(dotted, dash, "..");
      fail(fmt::format("a range is written with two dots (write {})", in_quotes(dotted)));
    }
  }

  void refuse_vague_words() const {
    for (const std::string_view vague :
         {"about", "approx.", "approximately", "approx", "around", "circa", "ca.", "ca", "roughly",
          "~", "\u2248", "<", ">"}) {
      if (!std::string_view(text_).starts_with(vague)) continue;
      const std::string_view rest = trimmed(std::string_view(text_).substr(vague.size()));
      if (rest.empty() || !is_digit(rest[0])) continue;
      const Term term = read_term(rest);
      (void)resolve(term.unit);
      const std::string example =
          fmt::format("{:.6g}..{:.6g} {}", 0.9 * term.number, 1.1 * term.number, term.unit);
      fail(fmt::format("a rough value is written as a range (such as {})",
                       in_quotes(trimmed(example))));
    }
  }

  Match resolve(std::string_view symbol) const {
    if (const auto match = find_unit(symbol, accepted_)) return *match;
    const std::vector<std::string_view> allowed = listed_symbols(accepted_);
    if (symbol.empty())
      fail(fmt::format("the unit is missing (allowed: {})", fmt::join(allowed, ", ")));
    if (allowed.empty())
      fail(fmt::format("{} is not expected here: a plain number, no unit", in_quotes(symbol)));
    refuse_energy(symbol);
    refuse_other_kind(symbol, allowed);
    refuse_trailing_words(symbol);
    fail_unknown_unit(symbol, allowed);
  }

  /// Batteries are often sold by energy; the slip is worth more than "did you mean Ah".
  void refuse_energy(std::string_view symbol) const {
    const bool energy = symbol == "Wh" || symbol == "kWh";
    if (energy && find_unit("Ah", accepted_)) {
      fail(fmt::format("{} is an energy; for amp-hours divide watt-hours by the battery's voltage",
                       symbol));
    }
  }

  void refuse_other_kind(std::string_view symbol,
                         const std::vector<std::string_view>& allowed) const {
    for (const Family& other : kFamilies) {
      const Dimension dimension[] = {other.dimension};
      if (find_unit(symbol, dimension)) {
        fail(fmt::format("{} is {} (allowed here: {})", symbol, other.noun,
                         fmt::join(allowed, ", ")));
      }
    }
  }

  void refuse_trailing_words(std::string_view symbol) const {
    for (auto blank = symbol.rfind(' '); blank != symbol.npos && blank > 0;
         blank = symbol.rfind(' ', blank - 1)) {
      if (find_unit(trimmed(symbol.substr(0, blank)), accepted_)) {
        fail(fmt::format("{} after the unit is not understood",
                         in_quotes(symbol.substr(blank + 1))));
      }
    }
  }

  [[noreturn]] void fail_unknown_unit(std::string_view symbol,
                                      const std::vector<std::string_view>& allowed) const {
    const std::string_view likely = near_miss(symbol, allowed);
    if (!likely.empty()) {
      fail(fmt::format("unknown unit {} (did you mean {}?)", in_quotes(symbol), likely));
    }
    fail(fmt::format("unknown unit {} (allowed: {})", in_quotes(symbol), fmt::join(allowed, ", ")));
  }

  static bool is_gauge(const Unit& unit) { return unit.symbol == "AWG" || unit.symbol == "awg"; }

  double to_base(double number, const Match& match) const {
    if (is_gauge(*match.unit)) {
      const bool whole = number == std::floor(number);
      if (!(whole && number >= -3 && number <= 40)) {
        fail("the gauge is not a whole number in 4/0..40 AWG");
      }
      return awg_section_mm2(static_cast<int>(number));
    }
    const double base = number * match.unit->times / match.unit->over + match.unit->offset;
    if (!std::isfinite(base)) fail("the number is too large to work with");
    return base;
  }

  std::string_view given_;
  std::string text_;
  Accepted accepted_;
};

// ---- Edit distance -------------------------------------------------------------------------

/// Most slips a word of this length may hold and still be recognised. Chosen: one in a short word,
/// three in a long one; a single letter is never corrected, only its case.
std::size_t slips_allowed(std::size_t length) {
  if (length <= 1) return 0;
  if (length <= 4) return 1;
  return length <= 8 ? 2 : 3;
}

/// Whether `word`, of three letters or more, is how `candidate` begins: "cap" for "capacity".
bool abbreviates(std::string_view word, std::string_view candidate) {
  if (word.size() < 3 || word.size() >= candidate.size()) return false;
  return std::equal(word.begin(), word.end(), candidate.begin(),
                    [](char a, char b) { return lower(a) == lower(b); });
}

/// Optimal string alignment distance, ignoring ASCII case.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                           lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

}  // namespace

std::string_view base_unit(Dimension dimension) { return family(dimension).units.front().symbol; }

std::vector<std::string_view> unit_symbols(Dimension dimension) {
  const Dimension only[] = {dimension};
  return listed_symbols(only);
}

Quantity parse_quantity(std::string_view text, std::span<const Dimension> accepted) {
  return Parser(text, accepted).parse();
}

Quantity parse_quantity(std::string_view text, Dimension accepted) {
  const Dimension only[] = {accepted};
  return parse_quantity(text, only);
}

double awg_section_mm2(int gauge) {
  constexpr double kPi = 3.14159265358979323846;
  const double diameter_mm = 0.127 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return kPi / 4 * diameter_mm * diameter_mm;
}

std::string_view near_miss(std::string_view word, std::span<const std::string_view> candidates) {
  std::string_view best;
  std::size_t fewest = slips_allowed(word.size()) + 1;
  for (const std::string_view candidate : candidates) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    const std::size_t shorter = std::min(word.size(), candidate.size());
    const bool cut_short = abbreviates(word, candidate);
    if (shorter == 0 || (longer - shorter >= fewest && !cut_short)) continue;
    const std::size_t slips = cut_short ? 1 : edit_distance(word, candidate);
    // Every letter replaced is no resemblance.
    if (slips < fewest && slips < longer) {
      fewest = slips;
      best = candidate;
    }
  }
  return best;
}

}  // namespace amptally
