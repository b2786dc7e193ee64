#pragma once

#include <span>
#include <string_view>
#include <vector>

namespace amptally::inline v0_1 {

/// Kinds of quantity the site file knows. The comment gives the base unit: a parsed value is always
/// in it, and a bare number is taken to be in it.
enum class Dimension {
  current,            ///< A
  power,              ///< W
  voltage,            ///< V
  charge,             ///< Ah
  share,              ///< 1 (so 0.5 is "50 %")
  minutes,            ///< min
  hours,              ///< h
  days,               ///< days
  years,              ///< years
  length,             ///< m
  bore,               ///< mm
  section,            ///< mm2 (an AWG gauge is turned into mm2)
  area,               ///< m2
  volume,             ///< L
  flow,               ///< L/h
  head,               ///< m of water
  angle,              ///< deg
  temperature,        ///< deg C
  share_per_kelvin,   ///< %/K
  share_per_month,    ///< %/month
  daily_irradiation,  ///< kWh/m2/day
  rain,               ///< mm/month
  number,             ///< a plain count or factor, no unit
};

/// Symbol of the base unit as people write it: "A", "mm2", "%/K"; "" for `number`, "%" for `share`.
[[nodiscard]] std::string_view base_unit(Dimension dimension);

/// Unit symbols accepted for a dimension, base unit first.
[[nodiscard]] std::vector<std::string_view> unit_symbols(Dimension dimension);

/// A value, exact or rough, in the base unit of its dimension.
struct Quantity {
  double low = 0;     ///< lower end; equals `middle` when exact
  double middle = 0;  ///< what calculations use
  double high = 0;    ///< upper end; equals `middle` when exact
  Dimension dimension = Dimension::number;

  [[nodiscard]] bool is_rough() const { return low != high; }
};

/// The quantity written in `text`: "350 mA", "300..400 mA", "350 +- 50 mA", "350 mA +- 10 %".
///
/// @param text      what a person wrote; decimal point only
/// @param accepted  dimensions whose units may appear, the preferred one first
/// @return the value in base units; a range's middle is the mean of its ends
/// @throws InputError (field empty) naming what was given, what is allowed and a likely correction:
///   no number, no unit, an unknown unit, a decimal comma, a range upside down, not finite
[[nodiscard]] Quantity parse_quantity(std::string_view text, std::span<const Dimension> accepted);
[[nodiscard]] Quantity parse_quantity(std::string_view text, Dimension accepted);

/// Conductor section of an American Wire Gauge size.
///
/// @param gauge  -3 (written 4/0) .. 40
/// @return section, mm2. Diameter 0.127 mm x 92^((36 - n)/39), ASTM B258 (from memory).
[[nodiscard]] double awg_section_mm2(int gauge);

}  // namespace amptally::inline v0_1
