#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "amptally/site.hpp"

#include "site/fields.hpp"
#include "sitefile/json_text.hpp"
#include "sitefile/problem.hpp"
#include "sitefile/setting.hpp"

namespace amptally::io {

/// What all parts of the reader add to.
struct Reading {
  std::string file;
  std::span<const Setting> settings;
  Site site;
  std::vector<Problem> problems;
  std::span<const Field> fields = all_fields();  ///< of the kind of file that is read

  void problem(const Node& at, TextPosition position, const std::string& field,
               const std::string& message);
  void assume(AssumptionKind kind, std::string text) {
    site.assumptions.push_back({kind, std::move(text)});
  }
};

/// One object of the site file, read field by field against the fields table.
///
/// Every getter checks presence, type, unit and range, notes what is wrong, and then returns
/// nothing: a missing optional field and a wrong one look the same, because a reading with problems
/// is thrown away. Asking for a field that the table does not have is an error of ours (assert).
class ObjectReader {
 public:
  /// Notes names that are unknown or given twice.
  /// @param path  where the object is, e.g. `loads[0]`; "" for the root
  ObjectReader(Reading& reading, const Node& node, std::string path);

  [[nodiscard]] bool has(std::string_view name) const { return node_.member(name) != nullptr; }
  /// Whether an unknown name was told to mean this one, which says enough of its absence.
  [[nodiscard]] bool is_misspelled(std::string_view name) const;
  /// Whether the member was put there by `--set`.
  [[nodiscard]] bool is_set(std::string_view name) const {
    return has(name) && node_.member(name)->setting >= 0;
  }

  [[nodiscard]] std::optional<Quantity> quantity(std::string_view name);
  [[nodiscard]] std::optional<double> value(std::string_view name);
  [[nodiscard]] double value_or(std::string_view name, double fallback);
  [[nodiscard]] std::optional<Draw> draw(std::string_view name);
  [[nodiscard]] std::optional<Threshold> threshold(std::string_view name);
  [[nodiscard]] int integer_or(std::string_view name, int fallback);
  [[nodiscard]] std::string text(std::string_view name);
  [[nodiscard]] bool boolean(std::string_view name);
  /// The one of the field's words that is given; empty for none of them.
  [[nodiscard]] std::string_view choice_word(std::string_view name);
  /// The enumerator that it stands for in the table.
  template <class Enum>
  [[nodiscard]] std::optional<Enum> choice(std::string_view name) {
    const Choice* const given = choice_given(name);
    return given != nullptr ? std::optional(static_cast<Enum>(given->value)) : std::nullopt;
  }
  [[nodiscard]] MonthSet months(std::string_view name);
  [[nodiscard]] double minutes_of_day(std::string_view name);
  [[nodiscard]] std::optional<std::pair<double, double>> azimuth_extent(std::string_view name);
  [[nodiscard]] std::vector<CyclePoint> cycle_points(std::string_view name);
  [[nodiscard]] std::optional<Monthly> monthly(std::string_view name);
  /// Twelve values of the field `name`, bare numbers in `bare_unit`.
  [[nodiscard]] std::optional<Monthly> monthly(std::string_view name, std::string_view bare_unit);
  [[nodiscard]] std::optional<ObjectReader> object(std::string_view name);
  [[nodiscard]] std::vector<ObjectReader> list(std::string_view name);

  [[nodiscard]] const Node* member(std::string_view name) const { return node_.member(name); }
  [[nodiscard]] std::string path_of(std::string_view name) const;
  /// Notes a problem at the field `name`, or at the object where the field is not given or `name`
  /// is empty.
  void problem(std::string_view name, const std::string& message);

 private:
  [[nodiscard]] const Field& field(std::string_view name) const;
  /// The member, after noting its absence where it is required.
  [[nodiscard]] const Node* get(std::string_view name);
  [[nodiscard]] const Node* get(std::string_view name, Node::Kind kind);
  [[nodiscard]] const Choice* choice_given(std::string_view name);
  void wrong_type(const Node& node, const Field& field, const std::string& path);
  void problem_at(const Node& node, const std::string& path, const std::string& message);
  void check_names();
  void note_unknown(const Node& member, std::span<const std::string_view> known);
  std::optional<Quantity> read_quantity(const Node& node, const Field& field,
                                        const std::string& path, std::string_view bare_unit = {});
  bool in_range(const Node& node, const Field& field, const Quantity& quantity,
                const std::string& path, std::string_view bare_unit);
  std::optional<Monthly> read_monthly(const Node& node, const Field& field, const std::string& path,
                                      std::string_view bare_unit);

  Reading* reading_;
  const Node& node_;
  std::string path_;
  std::string pattern_;
  std::vector<std::string_view> misspelled_;  ///< what unknown names were likely meant to be
};

/// The object that `text` is.
/// @param what  what messages call the file: `a site file`
/// @return nothing when it is none, which is noted
[[nodiscard]] std::optional<Node> root_object(Reading& reading, std::string_view text,
                                              std::string_view what);

}  // namespace amptally::io
