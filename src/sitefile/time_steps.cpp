#include "sitefile/time_steps.hpp"

#include <fmt/format.h>

#include "amptally/site.hpp"

namespace amptally::io {
namespace {

using std::chrono::days;
using std::chrono::floor;
using std::chrono::hours;
using std::chrono::year_month_day;

constexpr std::chrono::month_day kLeapDay = std::chrono::February / 29;

template <typename Time>
year_month_day date_of(Time time) {
  return year_month_day(floor<days>(time));
}

std::chrono::month_day day_in_year(year_month_day date) { return date.month() / date.day(); }

}  // namespace

hours StepOrder::length() const { return kind_ == StepKind::days ? hours(24) : hours(1); }

std::string StepOrder::text(Hour step) const {
  const year_month_day date = date_of(step);
  const auto hour = (step - floor<days>(step)).count();
  const std::string day = fmt::format("{} {}", static_cast<unsigned>(date.day()),
                                      kMonthNames[static_cast<unsigned>(date.month()) - 1]);
  const int year = static_cast<int>(date.year());
  switch (kind_) {
    case StepKind::days:
      return fmt::format("{} {}", day, year);
    case StepKind::hours:
      return fmt::format("{} {} {:02}:00", day, year, hour);
    case StepKind::typical_hours:
      break;
  }
  return fmt::format("{} hour {}", day, hour + 1);
}

std::string StepOrder::gap_text(Hour first, Hour next) const {
  const Hour last = next - length();
  return last == first ? text(first) + " is missing"
                       : fmt::format("{} to {} are missing", text(first), text(last));
}

void StepOrder::explain(const TableLines& lines, Hour step, Hour expected) const {
  if (step == *last_) {
    lines.fail(text(step) + " comes twice" +
               (kind_ == StepKind::days ? " (hourly values stand under a column \"time\")" : ""));
  }
  const std::string follows = fmt::format("{} follows {}", text(step), text(*last_));
  if (step < expected) lines.fail(follows + ": out of order");
  lines.fail(fmt::format("{}: {}", follows, gap_text(expected, step)));
}

bool StepOrder::take(const TableLines& lines, year_month_day date, int hour) {
  const Hour step = std::chrono::sys_days(date) + hours(hour);
  if (!last_) {
    const Hour new_year = std::chrono::sys_days(date.year() / std::chrono::January / 1);
    if (step != new_year) {
      lines.fail(fmt::format("begins with {}: whole years are read, from 1 January", text(step)));
    }
  } else {
    Hour expected = *last_ + length();
    // Tables of 365 days a year leave it out.
    const bool skips_leap_day =
        day_in_year(date_of(expected)) == kLeapDay && step == expected + days(1);
    if (skips_leap_day) expected = step;
    if (step != expected) explain(lines, step, expected);
  }
  last_ = step;
  return day_in_year(date) != kLeapDay;
}

bool StepOrder::year_is_over() const {
  return last_ && date_of(*last_ + length()).year() != date_of(*last_).year();
}

void StepOrder::finish(const TableLines& lines) const {
  if (!last_) lines.fail("no values follow the header");
  if (!year_is_over()) {
    lines.fail(
        fmt::format("ends with {}: whole years are read, to the end of 31 December", text(*last_)));
  }
}

}  // namespace amptally::io
