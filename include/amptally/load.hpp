#pragma once

#include <optional>
#include <string_view>

#include "amptally/site.hpp"

namespace amptally::inline v0_1 {

/// The field of a load that says when it runs: "always", "per_day", "runs" or "from_water".
[[nodiscard]] std::string_view schedule_field(const Load& load);

/// Whether it runs, and at times that are its own to choose: not those of a water line.
[[nodiscard]] bool chooses_its_time(const Load& load);

/// Whether any day of the year is one of its days, by `months` and `every_days`.
[[nodiscard]] bool has_a_day(const Load& load);

/// Minutes a day that a load's own schedule names; unset where it has none (always on, by a water
/// line).
[[nodiscard]] std::optional<double> minutes_a_day(const Load& load);

/// The load with other minutes a day, on the same clock: its runs in proportion, or evenly where
/// they had none. A load without minutes of its own stays as it is.
[[nodiscard]] Load with_minutes_a_day(Load load, double minutes);

}  // namespace amptally::inline v0_1
