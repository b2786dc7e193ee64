#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/quantity.hpp"

namespace amptally::io {

/// What a field of the site file holds.
enum class FieldType {
  object,
  list,  ///< of objects
  text,
  choice,  ///< one of a few words
  boolean,
  integer,         ///< a whole number; of days where the field's dimension says so
  quantity,        ///< a string with a unit, or a bare number in the base unit; may be a range
  monthly,         ///< twelve quantities, January first
  insolation,      ///< monthly, or an object with values and unit
  months,          ///< "Oct-Apr" or ["Jun", "Jul"]
  time_of_day,     ///< "06:30"
  azimuth_extent,  ///< "90..150", clockwise
  cycle_points,    ///< [[depth, cycles], ...]
  demand,          ///< a daily volume, or an object
  anything,        ///< not looked at
};

/// A dimension a field accepts and the values allowed, in its base unit.
struct Limits {
  Dimension dimension = Dimension::number;
  double low = 0;
  double high = 0;
  bool above_low = false;  ///< `low` itself is not allowed
};

/// One field of the site file. The table of these drives the reader's checks, `explain`, the JSON
/// Schema and the table in docs/site-file.md.
struct Field {
  std::string_view path;  ///< `loads[].draw`: [] stands for any element
  FieldType type = FieldType::quantity;
  std::vector<Limits> limits{};  ///< quantities: the dimension of a bare number first
  std::vector<std::string_view> choices{};
  bool required = false;        ///< within its object
  bool exact = false;           ///< a quantity that takes no range
  std::string_view fallback{};  ///< what is taken when it is not given; empty: nothing is
  std::string_view meaning{};   ///< a sentence or two
  std::string_view usual{};     ///< figures to expect; may be empty
  std::string_view source{};    ///< of the default or the usual figures; may be empty
};

/// Every field, in the order in which a reader of the site file meets them.
[[nodiscard]] std::span<const Field> all_fields();

/// The same of a parts list: the label fields are the site file's, by other paths.
[[nodiscard]] std::span<const Field> parts_fields();

/// The field with this pattern (`loads[].draw`); null when there is none.
[[nodiscard]] const Field* find_field(std::string_view pattern,
                                      std::span<const Field> fields = all_fields());

/// The field a person means by `path`: `loads[pump].draw`, `loads[0].draw`, `loads.draw`, and
/// `notes` of any object; null when there is none.
[[nodiscard]] const Field* field_meant_by(std::string_view path);

/// `field`, one of `all_fields()`, and all that may stand in it.
[[nodiscard]] std::span<const Field> with_members(const Field& field);

/// The path of a field that `path` is likely a slip for, with the brackets of `path`; empty when
/// none is near.
[[nodiscard]] std::string near_miss_field(std::string_view path);

/// A pattern with what `path` has in its brackets, one after the other, as far as they go:
/// `loads[].draw` and `loads[pump].drew` make `loads[pump].draw`.
[[nodiscard]] std::string with_brackets_of(std::string_view path, std::string_view pattern);

/// The fields directly inside `object_pattern` (`battery`, `loads[]`; "" for the root).
[[nodiscard]] std::vector<const Field*> fields_inside(std::string_view object_pattern,
                                                      std::span<const Field> fields = all_fields());

/// The last part of a pattern: `draw` of `loads[].draw`.
[[nodiscard]] std::string_view field_name(const Field& field);

/// What has to be written, in a few words: `a quantity in A, mA or uA`.
[[nodiscard]] std::string expected_text(const Field& field);

/// The allowed values, with units: `0..1000 A or 0..48000 W`; empty where any will do.
[[nodiscard]] std::string range_text(const Field& field);
/// One of them: `above 0 and up to 100000 Ah`. A share is in per cent, unless `bare_share`.
[[nodiscard]] std::string range_text(const Limits& limits, bool bare_share = false);

/// The table of docs/site-file.md or docs/parts-file.md, in Markdown.
[[nodiscard]] std::string markdown_table(std::span<const Field> fields = all_fields());

}  // namespace amptally::io
