#pragma once

#include <span>
#include <string_view>

#include "sitefile/object_reader.hpp"

namespace amptally::io {

/// A way to say when a load runs: a field of which each load has exactly one.
struct ScheduleField {
  std::string_view name;
  Schedule (*read)(Reading& reading, ObjectReader& in);
  std::string_view choice{};  ///< a field of one word that goes with this one only; may be empty
};

[[nodiscard]] std::span<const ScheduleField> schedule_fields();

/// The load's schedule, after noting what is wrong with it.
[[nodiscard]] Schedule read_schedule(Reading& reading, ObjectReader& in);

}  // namespace amptally::io
