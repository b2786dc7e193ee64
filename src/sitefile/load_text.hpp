#pragma once

#include <string>
#include <string_view>

namespace amptally::io {

/// A load in one line, as `fit` takes it: `NAME: DRAW[, TIME/day [at HH:MM]] [MONTHS]`.
///
/// "valve: 300 mA, 20 min/day", "pump: 2 A, 10 min/day at 06:30 Apr-Sep", "sensor: 5 mA" (always
/// on).
/// @return the load as an object of the site file, JSON; whoever reads it checks its figures, with
///   the same messages as the file's own
/// @throws InputError (no field) where the line does not have this form
[[nodiscard]] std::string load_object(std::string_view text);

}  // namespace amptally::io
