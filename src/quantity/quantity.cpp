#include "amptally/quantity.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "quantity/units.hpp"
#include "text/ascii.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {
namespace {

using Accepted = std::span<const Dimension>;

// ---- Text ----------------------------------------------------------------------------------

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
    const UnitMatch match = resolve(term.unit);
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
    // Per cent of the middle, unless that is in per cent itself: "50 % +- 5 %" is 45..55 %.
    const bool of_the_middle = spread.unit == "%" && !middle.unit.empty() && middle.unit != "%" &&
                               middle.unit != "percent";
    if (middle.unit.empty() && spread.unit != "%") middle.unit = spread.unit;
    if (middle.unit.empty() && find_unit("%", accepted_)) middle.unit = spread.unit;
    const UnitMatch match = resolve(middle.unit);
    if (is_gauge(*match.unit))
      fail("a gauge takes no tolerance (write a range such as \"16..18 AWG\")");
    // The spread in the middle's own unit, so that "350 +- 50 mA" is 0.3..0.4 A to the last digit.
    double half = spread.number;
    if (of_the_middle || (match.dimension == Dimension::number && spread.unit == "%")) {
      half = std::abs(middle.number) * spread.number / 100;
    } else if (!spread.unit.empty() && spread.unit != middle.unit) {
      const UnitMatch other = resolve(spread.unit);
      if (other.dimension != match.dimension) fail("value and tolerance are of different kinds");
      // A difference of two temperatures, say, so without the offsets.
      half *= other.unit->times / other.unit->over * match.unit->over / match.unit->times;
    }
    return {to_base(middle.number - half, match), to_base(middle.number, match),
            to_base(middle.number + half, match), match.dimension};
  }

  struct Ends {
    UnitMatch match;
    double low;
    double high;
  };

  Ends same_kind(const Term& from, const Term& to) const {
    const UnitMatch first = resolve(from.unit);
    const UnitMatch second = resolve(to.unit);
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
    // Taken off here, since from_chars takes no plus sign.
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

  UnitMatch resolve(std::string_view symbol) const {
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
    for (const Family& other : families()) {
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

  double to_base(double number, const UnitMatch& match) const {
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

}  // namespace

Quantity parse_quantity(std::string_view text, std::span<const Dimension> accepted) {
  return Parser(text, accepted).parse();
}

Quantity parse_quantity(std::string_view text, Dimension accepted) {
  const Dimension only[] = {accepted};
  return parse_quantity(text, only);
}

}  // namespace amptally::inline v0_1
