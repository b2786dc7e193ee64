#include "sitefile/calendar_text.hpp"

#include <array>
#include <string>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/quantity.hpp"

#include "sitefile/hint.hpp"
#include "text/ascii.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

[[noreturn]] void fail(std::string_view text, const std::string& message) {
  throw InputError("", fmt::format("{} {}", in_quotes(text), message));
}

/// Whether `word` is the start of `name`, in any case.
bool begins(std::string_view name, std::string_view word) {
  if (word.size() > name.size()) return false;
  for (std::size_t i = 0; i < word.size(); ++i) {
    if (lower(word[i]) != lower(name[i])) return false;
  }
  return true;
}

/// 0..11 from a month's name or its first letters, at least three.
std::size_t month_index(std::string_view word) {
  word = trimmed(word);
  for (std::size_t i = 0; word.size() >= 3 && i < kMonthNames.size(); ++i) {
    if (begins(kMonthNames[i], word)) return i;
  }
  std::array<std::string_view, 24> spellings;
  for (std::size_t i = 0; i < 12; ++i) {
    spellings[2 * i] = kMonthNames[i].substr(0, 3);
    spellings[2 * i + 1] = kMonthNames[i];
  }
  fail(word, "is not a month" + hint(near_miss(word, spellings),
                                     "write \"Oct-Apr\", \"Jun\" or [\"Jun\", \"Jul\"]"));
}

}  // namespace

MonthSet parse_months(std::string_view text) {
  const std::size_t dash = text.find('-');
  const std::size_t first = month_index(text.substr(0, dash));
  const std::size_t last = dash == text.npos ? first : month_index(text.substr(dash + 1));
  MonthSet months;
  for (std::size_t i = first; i != last; i = (i + 1) % 12) months.set(i);
  months.set(last);
  return months;
}

double parse_time_of_day(std::string_view text) {
  const std::string_view time = trimmed(text);
  const std::size_t colon = time.find(':');
  const bool shaped = (colon == 1 || colon == 2) && time.size() == colon + 3 && is_digit(time[0]) &&
                      is_digit(time[colon - 1]) && is_digit(time[colon + 1]) &&
                      is_digit(time[colon + 2]);
  if (!shaped) fail(text, "is not a time of day (write it like \"06:30\")");
  const int hours = colon == 1 ? time[0] - '0' : 10 * (time[0] - '0') + (time[1] - '0');
  const int minutes = 10 * (time[colon + 1] - '0') + (time[colon + 2] - '0');
  if (hours > 23 || minutes > 59) fail(text, "is not in 00:00..23:59");
  return hours * kMinutesPerHour + minutes;
}

std::pair<double, double> parse_azimuth_extent(std::string_view text) {
  const std::size_t dots = text.find("..");
  if (dots == text.npos) fail(text, "is not an extent (write it like \"90..150 deg\", clockwise)");
  const auto angle = [](std::string_view part) {
    std::string word(trimmed(part));
    if (!word.empty() && is_digit(word.back())) word += " deg";
    const Quantity quantity = parse_quantity(word, Dimension::angle);
    return quantity.middle;
  };
  const double from = angle(text.substr(0, dots));
  const double to = angle(text.substr(dots + 2));
  if (from == to) fail(text, "has no width (write it like \"90..150 deg\", clockwise)");
  return {from, to};
}

}  // namespace amptally::io
