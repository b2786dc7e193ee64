#pragma once

#include <optional>
#include <string>

#include "amptally/panel.hpp"
#include "amptally/site.hpp"

/// What parts must withstand, for findings and for the choice of parts.
namespace amptally::inline v0_1 {

/// Coldest air to count on, deg C: the record, or 15 K below the coldest month.
[[nodiscard]] double record_low_c(const Site& site);

/// The same in words: "the record low of -6 deg C".
[[nodiscard]] std::string record_low_words(const Site& site);

/// Open-circuit voltage of a string in the record cold, V: by the panel's own coefficient or by the
/// code's table, whichever is higher.
[[nodiscard]] double cold_string_v(const Site& site, const PanelRating& rating);

/// Voltage at which a string has its power when its cells are hot, V.
[[nodiscard]] double hot_string_v(const Site& site, const PanelRating& rating, double cell_c);

/// Short-circuit current of all strings, A.
[[nodiscard]] double short_circuit_a(const Site& site, const PanelRating& rating);

/// A quarter on top of the short-circuit current, for bright clouds. Source: NEC 690.8(A).
inline constexpr double kBrightClouds = 1.25;

/// Charging current of full sun on cool cells, A, within the regulator's limit.
[[nodiscard]] double full_charge_a(const Site& site);

/// Most current the bank should be charged with, A: its own limit or its type's usual one.
[[nodiscard]] double charge_limit_a(const Battery& battery);

/// The first limit that a site's parts break together, in words; nothing when all is well.
/// @param hottest_air_c  of a usual year
[[nodiscard]] std::optional<std::string> broken_limit(const Site& site, double hottest_air_c);

}  // namespace amptally::inline v0_1
