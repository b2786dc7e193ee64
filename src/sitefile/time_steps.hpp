#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "sitefile/csv_lines.hpp"

namespace amptally::io {

/// What the steps of a table are, and how they are called in messages.
enum class StepKind {
  days,           ///< "3 March 2019"
  hours,          ///< "3 March 2019 05:00", the start of the hour
  typical_hours,  ///< "3 March hour 6": hours are counted 1..24, and years mean nothing
};

/// Days or hours that must follow one another from 1 January to 31 December, for whole years.
/// 29 February may be there or not.
class StepOrder {
 public:
  explicit StepOrder(StepKind kind) : kind_(kind) {}

  /// Takes the step on the line where `lines` stands.
  /// @param date  a date that exists; of typical hours, in a leap year that is always the same
  /// @param hour  0..23, 0 for days
  /// @return whether it counts; false on 29 February
  /// @throws DataError if it does not follow the one before
  bool take(const TableLines& lines, std::chrono::year_month_day date, int hour);

  /// @throws DataError if there is no step, or the last does not end a year
  void finish(const TableLines& lines) const;

  /// Whether the last step taken ends a year.
  [[nodiscard]] bool year_is_over() const;

 private:
  // Hours since 1970 began; days are counted by their first hour.
  using Hour = std::chrono::sys_time<std::chrono::hours>;

  [[nodiscard]] std::chrono::hours length() const;
  [[nodiscard]] std::string text(Hour step) const;
  [[nodiscard]] std::string gap_text(Hour first, Hour next) const;
  [[noreturn]] void explain(const TableLines& lines, Hour step, Hour expected) const;

  StepKind kind_;
  std::optional<Hour> last_;
};

}  // namespace amptally::io
