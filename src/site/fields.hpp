#pragma once

#include <algorithm>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/quantity.hpp"
#include "amptally/site.hpp"

#include "site/field_path.hpp"

namespace amptally::inline v0_1 {

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

  /// Whether `value` is allowed; never a NaN.
  [[nodiscard]] bool allow(double value) const {
    return value <= high && (above_low ? value > low : value >= low);
  }
};

/// A word a field may have, and the enumerator it stands for in `Site`.
struct Choice {
  // A word alone is a choice.
  constexpr Choice(const char* w) : word(w) {}
  constexpr Choice(std::string_view w) : word(w) {}
  template <class Enum>
  constexpr Choice(std::string_view w, Enum v) : word(w), value(static_cast<int>(v)) {}

  std::string_view word;
  int value = 0;
};

/// Where a site has a number; nowhere where it is not given.
struct NumberAt {
  double* real = nullptr;
  int* whole = nullptr;                   ///< instead of `real`, in an integer field
  std::optional<Dimension> said_in = {};  ///< of what may be said in two; else the field's first

  [[nodiscard]] bool is_given() const { return real != nullptr || whole != nullptr; }
  [[nodiscard]] double value() const { return real != nullptr ? *real : *whole; }
};

/// One field of the site file: a row of the table that drives the reader's checks, `site_field`,
/// the names in reports, `explain`, completion, the JSON Schema, and what tools/write_docs writes.
struct Field {
  std::string_view path;  ///< `loads[].draw`: [] stands for any element
  /// What people call it: `draw of {0}`. {0} stands for the element's name (a load's, a month's),
  /// {1} for the number of an element within that. Empty: reports never name it.
  std::string_view label{};
  std::string_view element_label{};  ///< of a list or of months: what one of them is called
  FieldType type = FieldType::quantity;
  /// Of a number: where it is in a site, by the numbers in its path's brackets.
  NumberAt (*number)(Site&, const PathIndices&) = nullptr;
  /// Of a list: how many elements a site has in it, and what one of them is called.
  std::size_t (*size)(const Site&, const PathIndices&) = nullptr;
  std::string (*element_name)(const Site&, std::size_t element) = nullptr;
  std::vector<Limits> limits{};  ///< quantities: the dimension of a bare number first
  /// Of a site put together otherwise than from a file, where they are wider: sizing comes to banks
  /// no file may give, and what a weather file has is taken as it is.
  std::vector<Limits> site_limits{};
  std::vector<Choice> choices{};
  bool required = false;        ///< within its object
  bool exact = false;           ///< a quantity that takes no range
  std::string_view fallback{};  ///< what is taken when it is not given; empty: nothing is
  std::string_view meaning{};   ///< a sentence or two
  std::string_view usual{};     ///< figures to expect; may be empty
  std::string_view source{};    ///< of the default or the usual figures; may be empty
};

/// Every field, in the order in which a reader of the site file meets them.
[[nodiscard]] std::span<const Field> all_fields();

/// The field with this pattern (`loads[].draw`); null when there is none.
[[nodiscard]] const Field* find_field(std::string_view pattern,
                                      std::span<const Field> fields = all_fields());

/// A field of a site, by a path such as `loads[0].draw`.
struct FieldAt {
  const Field* field;
  PathIndices indices;  ///< the numbers in the path's brackets
  bool is_element;      ///< it ends in brackets of the field's own: `place.rain[3]`, `loads[0]`
};

/// Nothing where the table has no field there, or brackets hold something else than a number.
[[nodiscard]] std::optional<FieldAt> field_at(std::string_view path);

/// The field a person means by `path`: `loads[pump].draw`, `loads[0].draw`, `loads.draw`, and
/// `notes` of any object; null when there is none.
[[nodiscard]] const Field* field_meant_by(std::string_view path);

/// `field`, one of `all_fields()`, and all that may stand in it.
[[nodiscard]] std::span<const Field> with_members(const Field& field);

/// The fields directly inside `object_pattern` (`battery`, `loads[]`; "" for the root).
[[nodiscard]] std::vector<const Field*> fields_inside(std::string_view object_pattern,
                                                      std::span<const Field> fields = all_fields());

/// The last part of a pattern: `draw` of `loads[].draw`.
[[nodiscard]] std::string_view field_name(const Field& field);

/// Whether it holds twelve numbers, reached by `[0]` to `[11]` behind its path.
[[nodiscard]] bool is_by_month(const Field& field);

/// Its limits in `dimension`; null when it is never said in it.
[[nodiscard]] const Limits* limits_in(const Field& field, Dimension dimension);

/// What a site may have in the field, in the dimension it was said in; the first where there is one
/// only.
[[nodiscard]] const Limits* site_limits_of(const Field& field, std::optional<Dimension> said_in);

/// The words a field may have.
[[nodiscard]] std::vector<std::string_view> choice_words(const Field& field);

/// The one of them that stands for an enumerator.
template <class Enum>
[[nodiscard]] std::string_view choice_word(const Field& field, Enum value) {
  const auto it = std::find_if(field.choices.begin(), field.choices.end(),
                               [&](const Choice& c) { return c.value == static_cast<int>(value); });
  return it == field.choices.end() ? std::string_view{} : it->word;
}

/// What has to be written, in a few words: `a quantity in A, mA or uA`.
[[nodiscard]] std::string expected_text(const Field& field);

/// The allowed values, with units: `0..1000 A or 0..48000 W`; empty where any will do.
[[nodiscard]] std::string range_text(const Field& field);
/// One of them: `above 0 and up to 100000 Ah`. A share is in per cent, unless `bare_share`.
[[nodiscard]] std::string range_text(const Limits& limits, bool bare_share = false);

}  // namespace amptally::inline v0_1
