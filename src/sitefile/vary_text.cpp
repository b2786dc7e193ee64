#include "sitefile/vary_text.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <initializer_list>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/setting.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {
namespace {

/// Digits that a double holds exactly, whatever they are: values then print as they were written.
constexpr int kMostDigits = 15;

/// A decimal number as written: digits / 10^decimals.
struct Decimal {
  std::int64_t digits = 0;
  int decimals = 0;
};

struct Term {
  Decimal number;
  std::string_view unit;
};

double power_of_ten(int exponent) {
  double power = 1;  // exact up to 10^22
  for (int i = 0; i < exponent; ++i) power *= 10;
  return power;
}

double value_of(std::int64_t digits, int decimals) {
  // A quotient of two exact numbers is the double nearest to the decimal one.
  return static_cast<double>(digits) / power_of_ten(decimals);
}

std::string with_unit(double value, const std::string& unit) {
  return unit.empty() ? fmt::format("{}", value) : fmt::format("{} {}", value, unit);
}

/// A plain decimal number and what stands behind it; nothing when there is none.
std::optional<Term> read_term(std::string_view text) {
  text = trimmed(text);
  const bool negative = text.starts_with('-');
  if (negative || text.starts_with('+')) text.remove_prefix(1);
  Decimal number;
  int digits = 0;
  bool point = false;
  std::size_t i = 0;
  for (; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '.' && !point) {
      point = true;
      continue;
    }
    if (!is_digit(c)) break;
    if (++digits > kMostDigits) return std::nullopt;
    number.digits = 10 * number.digits + (c - '0');
    number.decimals += point ? 1 : 0;
  }
  if (digits == 0) return std::nullopt;
  if (negative) number.digits = -number.digits;
  return Term{number, trimmed(text.substr(i))};
}

/// The members of a list: parted by commas outside quotes and brackets.
std::vector<std::string_view> split_members(std::string_view text) {
  std::vector<std::string_view> members;
  int depth = 0;
  bool quoted = false;
  std::size_t from = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '\\') {
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == '[' || c == '{')) {
      ++depth;
    } else if (!quoted && (c == ']' || c == '}')) {
      --depth;
    } else if (!quoted && depth == 0 && c == ',') {
      members.push_back(trimmed(text.substr(from, i - from)));
      from = i + 1;
    }
  }
  members.push_back(trimmed(text.substr(from)));
  return members;
}

/// The unit written in a number or a range, empty where it has none; nothing for other values.
std::optional<std::string_view> written_unit(std::string_view member) {
  std::string_view unit;
  for (const std::string_view part : {"..", ":"}) {
    const std::size_t end = member.find(part);
    if (end == member.npos) continue;
    const auto term = read_term(member.substr(0, end));
    if (!term) return std::nullopt;
    if (unit.empty()) unit = term->unit;
    member.remove_prefix(end + part.size());
  }
  const auto term = read_term(member);
  if (!term) return std::nullopt;
  return unit.empty() ? term->unit : unit;
}

class VaryParser {
 public:
  VaryParser(std::string_view text, bool drawn, std::vector<Problem>& problems)
      : shown_("--vary " + on_one_line(text)), drawn_(drawn), problems_(problems) {}

  FieldAxis parse(std::string_view text) {
    const Setting parts = split(text);
    axis_.field = varied_field(parts.path);
    const auto members = split_members(parts.value);
    if (takes_numbers()) shared_unit_ = unit_of_all(members);
    for (const std::string_view member : members) {
      if (member.empty()) fail("a value is empty (write values such as 7,12,18 Ah)");
      const std::size_t before = problems_.size();
      add(member, members.size() == 1);
      if (problems_.size() > before) break;  // the others are likely wrong in the same way
    }
    return std::move(axis_);
  }

 private:
  [[noreturn]] void fail(const std::string& message) const {
    throw InputError(on_one_line(axis_.field.path), message);
  }

  static Setting split(std::string_view text) {
    if (!is_utf8(text)) throw InputError("", in_quotes(text) + " is not UTF-8 text");
    try {
      return split_setting(text);
    } catch (const InputError&) {
      throw InputError("", fmt::format("{} is not PATH=VALUES (such as "
                                       "battery.capacity='7..40 Ah:3')",
                                       in_quotes(text)));
    }
  }

  [[nodiscard]] bool takes_numbers() const {
    const FieldType type = axis_.field.field->type;
    return type == FieldType::quantity || type == FieldType::integer || type == FieldType::demand;
  }

  /// The unit behind the last value, which then holds for bare numbers before it: `300,400 mA`.
  [[nodiscard]] std::string unit_of_all(const std::vector<std::string_view>& members) const {
    std::optional<std::string_view> unit;
    bool any_bare = false;
    bool one_unit = true;
    for (const std::string_view member : members) {
      const std::optional<std::string_view> written = written_unit(member);
      if (!written || written->empty()) {
        any_bare = any_bare || written.has_value();
        continue;
      }
      one_unit = one_unit && (!unit || *unit == *written);
      unit = written;
    }
    if (!any_bare || !unit) return {};
    if (!one_unit || written_unit(members.back()) != unit) {
      fail(
          "some values have a unit and some have none (write one behind each, or behind the last)");
    }
    return std::string(*unit);
  }

  [[nodiscard]] std::string with_shared_unit(std::string_view member) const {
    const bool is_bare = !shared_unit_.empty() && written_unit(member) == std::string_view{};
    return is_bare ? fmt::format("{} {}", member, shared_unit_) : std::string(member);
  }

  void add(std::string_view member, bool alone) {
    const std::size_t dots = takes_numbers() ? member.find("..") : member.npos;
    const bool has_quotes = member.find_first_of("\"{") != member.npos;
    if (dots != member.npos && !has_quotes) {
      const std::string_view left = member.substr(0, dots);
      const std::string_view right = member.substr(dots + 2);
      const std::size_t colon = right.find(':');
      if (colon != right.npos) {
        return add_range(member, left, right.substr(0, colon), right.substr(colon + 1));
      }
      if (alone) return add_open(member, left, right);
    }
    VariedValue value = varied_value(axis_.field, with_shared_unit(member), shown_, problems_);
    settle_dimension(axis_.field, value, shown_, problems_);
    axis_.members.emplace_back(std::move(value));
  }

  void add_range(std::string_view member, std::string_view left, std::string_view right,
                 std::string_view by) {
    const auto first = read_term(left);
    const auto last = read_term(right);
    const auto step = read_term(by);
    if (!first || !last || !step) {
      fail(
          fmt::format("{} is not A..B:STEP in plain numbers of up to {} digits (such as 7..40 "
                      "Ah:3)",
                      in_quotes(member), kMostDigits));
    }
    std::string unit = one_unit(member, {first->unit, last->unit, step->unit});
    if (unit.empty()) unit = shared_unit_;
    const int decimals =
        std::max({first->number.decimals, last->number.decimals, step->number.decimals});
    const std::int64_t from = scaled(member, first->number, decimals);
    const std::int64_t to = scaled(member, last->number, decimals);
    const std::int64_t stride = scaled(member, step->number, decimals);
    if (stride <= 0) fail(fmt::format("{}: the step is not above 0", in_quotes(member)));
    refuse_upside_down(member, *first, *last, from > to);
    const auto count = static_cast<std::uint64_t>((to - from) / stride) + 1;
    const SteppedRange range{from, stride, count, decimals, unit};
    // Limits are intervals: with its ends inside, all of a range is. The second tells whole steps.
    check({range.text(0), range.text(count - 1)});
    if (count > 2) check({range.text(1)});
    axis_.members.emplace_back(range);
  }

  void add_open(std::string_view member, std::string_view left, std::string_view right) {
    const auto first = read_term(left);
    const auto last = read_term(right);
    if (!first || !last) {
      const std::size_t before = problems_.size();
      (void)varied_value(axis_.field, member, shown_, problems_);
      if (problems_.size() > before) return;  // told in the words that --set has for it
      fail(fmt::format("{} is not A..B:STEP (such as 7..40 Ah:3)", in_quotes(member)));
    }
    const std::string unit = one_unit(member, {first->unit, last->unit, last->unit});
    const OpenRange range{value_of(first->number.digits, first->number.decimals),
                          value_of(last->number.digits, last->number.decimals), unit};
    refuse_upside_down(member, *first, *last, range.low > range.high);
    const bool whole_only = axis_.field.field->type == FieldType::integer || unit == "AWG";
    if (!drawn_ || whole_only) {
      fail(fmt::format(
          "{} has no step (write {}:STEP{})", in_quotes(member), on_one_line(member),
          whole_only ? ", a whole one" : "; with --random, values are drawn from all between"));
    }
    check({range.text(0), range.text(1)});
    axis_.members.emplace_back(range);
  }

  void check(std::initializer_list<std::string> texts) {
    for (const std::string& text : texts) {
      const std::size_t before = problems_.size();
      const VariedValue value = varied_value(axis_.field, text, shown_, problems_);
      settle_dimension(axis_.field, value, shown_, problems_);
      if (problems_.size() > before) return;  // one of them will do
    }
  }

  void refuse_upside_down(std::string_view member, const Term& first, const Term& last,
                          bool upside_down) const {
    if (!upside_down) return;
    fail(fmt::format("{}: the range is upside down ({} is above {})", in_quotes(member),
                     value_of(first.number.digits, first.number.decimals),
                     value_of(last.number.digits, last.number.decimals)));
  }

  /// The unit of a range: written behind any of its numbers, and the same wherever it is.
  [[nodiscard]] std::string one_unit(std::string_view member,
                                     const std::array<std::string_view, 3>& units) const {
    std::string_view unit;
    for (const std::string_view written : units) {
      if (unit.empty()) unit = written;
      if (!written.empty() && written != unit) {
        fail(fmt::format("{}: {} and {} in one range (write all of it in one unit)",
                         in_quotes(member), in_quotes(unit), in_quotes(written)));
      }
    }
    return std::string(unit);
  }

  [[nodiscard]] std::int64_t scaled(std::string_view member, Decimal number, int decimals) const {
    constexpr std::int64_t kMost = 1'000'000'000'000'000;  // 10^kMostDigits
    for (; number.decimals < decimals; ++number.decimals) {
      if (std::abs(number.digits) >= kMost / 10) {
        fail(fmt::format("{}: more than {} digits are needed", in_quotes(member), kMostDigits));
      }
      number.digits *= 10;
    }
    return number.digits;
  }

  std::string shown_;
  bool drawn_;
  std::vector<Problem>& problems_;
  FieldAxis axis_;
  std::string shared_unit_;  ///< of values without one
};

}  // namespace

std::string SteppedRange::text(std::uint64_t i) const {
  return with_unit(value_of(first + static_cast<std::int64_t>(i) * step, decimals), unit);
}

std::string OpenRange::text(double along) const {
  return with_unit(low + along * (high - low), unit);
}

FieldAxis parse_vary(std::string_view text, bool drawn, std::vector<Problem>& problems) {
  return VaryParser(text, drawn, problems).parse(text);
}

}  // namespace amptally::io
