#include "sitefile/fields.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sitefile/field_synonyms.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

/// `path` without whatever stands in brackets: `loads[pump].draw` -> `loads.draw`.
std::string without_brackets(std::string_view path) {
  std::string out;
  int depth = 0;
  for (const char c : path) {
    if (c == '[') ++depth;
    if (depth == 0) out += c;
    if (c == ']' && depth > 0) --depth;
  }
  return out;
}

std::string_view parent_pattern(std::string_view path) {
  const std::size_t dot = path.rfind('.');
  return dot == path.npos ? std::string_view{} : path.substr(0, dot);
}

/// Whether the field is directly inside the object; asked of every field for every object read.
bool is_inside(std::string_view path, std::string_view object) {
  if (object.empty()) return path.find('.') == path.npos;
  return path.size() > object.size() && path[object.size()] == '.' && path.starts_with(object) &&
         path.find('.', object.size() + 1) == path.npos;
}

std::string_view last_part(std::string_view path) { return path.substr(path.rfind('.') + 1); }

/// The fields directly inside the object or the list's elements at a path without brackets, none
/// for "".
std::vector<const Field*> members_of(std::string_view parent) {
  std::vector<const Field*> out;
  for (const Field& field : all_fields()) {
    const bool is_member =
        !parent.empty() && parent_pattern(without_brackets(field.path)) == parent;
    if (is_member) out.push_back(&field);
  }
  return out;
}

std::vector<std::string_view> names_of(const std::vector<const Field*>& fields) {
  std::vector<std::string_view> out;
  for (const Field* const field : fields) out.push_back(field_name(*field));
  return out;
}

/// The first of this name; null when there is none.
const Field* named(std::string_view name, const std::vector<const Field*>& fields) {
  const auto it = std::find_if(fields.begin(), fields.end(),
                               [&](const Field* field) { return field_name(*field) == name; });
  return it == fields.end() ? nullptr : *it;
}

std::string units_text(const Field& field) {
  std::vector<std::string_view> symbols;
  for (const Limits& limits : field.limits) {
    for (const std::string_view symbol : unit_symbols(limits.dimension)) symbols.push_back(symbol);
  }
  return any_of(symbols);
}

std::string choices_text(const Field& field) {
  std::vector<std::string> words;
  for (const std::string_view choice : field.choices) words.push_back(in_quotes(choice));
  const std::vector<std::string_view> views(words.begin(), words.end());
  return any_of(views);
}

std::string quantity_text(const Field& field) {
  const std::string units = units_text(field);
  return units.empty() ? "a number" : "a quantity in " + units;
}

/// Cells of a Markdown table end at a bar.
std::string cell(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '|') out += '\\';
    out += c;
  }
  return out;
}

}  // namespace

const Field* find_field(std::string_view pattern, std::span<const Field> fields) {
  const auto it = std::find_if(fields.begin(), fields.end(),
                               [&](const Field& field) { return field.path == pattern; });
  return it == fields.end() ? nullptr : &*it;
}

const Field* field_meant_by(std::string_view path) {
  const std::string plain = without_brackets(path);
  for (const Field& field : all_fields()) {
    if (without_brackets(field.path) == plain) return &field;
  }
  const bool is_remark = last_part(plain) == "notes";
  return is_remark && !members_of(parent_pattern(plain)).empty() ? find_field("notes") : nullptr;
}

std::span<const Field> with_members(const Field& field) {
  const std::span<const Field> all = all_fields();
  const auto at = static_cast<std::size_t>(&field - all.data());
  std::size_t end = at + 1;
  while (end < all.size() && all[end].path.size() > field.path.size() &&
         all[end].path.starts_with(field.path) &&
         (all[end].path[field.path.size()] == '.' || all[end].path[field.path.size()] == '[')) {
    ++end;
  }
  return all.subspan(at, end - at);
}

std::string near_miss_field(std::string_view path) {
  const std::string plain = without_brackets(path);
  if (const auto members = members_of(parent_pattern(plain)); !members.empty()) {
    const Field* const likely = named(likely_word(last_part(plain), names_of(members)), members);
    return likely == nullptr ? "" : with_brackets_of(path, likely->path);
  }
  std::vector<const Field*> all;
  std::vector<std::string> spelled;
  for (const Field& field : all_fields()) {
    all.push_back(&field);
    spelled.push_back(without_brackets(field.path));
  }
  const std::vector<std::string_view> names = names_of(all);
  // The name without its object, as in `capacity`.
  const Field* likely = named(plain, all);
  if (likely == nullptr) likely = named(other_word(plain, names), all);
  if (likely != nullptr) return std::string(likely->path);
  const std::vector<std::string_view> candidates(spelled.begin(), spelled.end());
  const std::string_view best = near_miss(plain, candidates);
  if (!best.empty()) return with_brackets_of(path, field_meant_by(best)->path);
  likely = named(near_miss(plain, names), all);
  return likely == nullptr ? "" : std::string(likely->path);
}

std::string with_brackets_of(std::string_view path, std::string_view pattern) {
  std::string out;
  for (const char c : pattern) {
    out += c;
    if (c != '[') continue;
    const std::size_t open = std::min(path.find('['), path.size());
    const std::size_t close = std::min(path.find(']', open), path.size());
    if (close < path.size()) out += path.substr(open + 1, close - open - 1);
    path.remove_prefix(close);
  }
  return out;
}

std::vector<const Field*> fields_inside(std::string_view object_pattern,
                                        std::span<const Field> fields) {
  std::vector<const Field*> out;
  for (const Field& field : fields) {
    if (is_inside(field.path, object_pattern)) out.push_back(&field);
  }
  return out;
}

std::string_view field_name(const Field& field) { return last_part(field.path); }

std::string expected_text(const Field& field) {
  switch (field.type) {
    case FieldType::object:
      return "an object {...}";
    case FieldType::list:
      return "a list [...] of objects";
    case FieldType::text:
      return "text in double quotes";
    case FieldType::choice:
      return choices_text(field);
    case FieldType::boolean:
      return "true";
    case FieldType::integer:
      return field.limits[0].dimension == Dimension::number
                 ? "a whole number"
                 : "a whole number of " + std::string(base_unit(field.limits[0].dimension));
    case FieldType::quantity:
      return quantity_text(field);
    case FieldType::monthly:
      return "12 values, January first, each " + quantity_text(field);
    case FieldType::insolation:
      return "12 values, January first, or {\"values\": [...], \"unit\": ...}";
    case FieldType::months:
      return "months such as \"Oct-Apr\" or [\"Jun\", \"Jul\"]";
    case FieldType::time_of_day:
      return "a time such as \"06:30\"";
    case FieldType::azimuth_extent:
      return "an extent such as \"90..150 deg\"";
    case FieldType::cycle_points:
      return "a list of [depth, cycles]";
    case FieldType::demand:
      return "a volume a day, {\"plants\", \"each\"} or {\"area\", \"crop\"}";
    case FieldType::anything:
      break;
  }
  return "anything";
}

std::string range_text(const Limits& limits, bool bare_share) {
  const bool per_cent = limits.dimension == Dimension::share && !bare_share;
  const double scale = per_cent ? 100 : 1;
  const std::string_view unit = bare_share ? "" : base_unit(limits.dimension);
  const std::string suffix = unit.empty() ? "" : " " + std::string(unit);
  if (limits.above_low) {
    return fmt::format("above {:g} and up to {:.9g}{}", limits.low * scale, limits.high * scale,
                       suffix);
  }
  return fmt::format("{:g}..{:.9g}{}", limits.low * scale, limits.high * scale, suffix);
}

std::string range_text(const Field& field) {
  std::string out;
  for (const Limits& limits : field.limits) {
    if (!out.empty()) out += " or ";
    out += range_text(limits);
  }
  return out;
}

std::string markdown_table(std::span<const Field> fields) {
  std::string out =
      "| field | write | allowed | default | meaning | usual |\n|---|---|---|---|---|---|\n";
  for (const Field& field : fields) {
    out +=
        fmt::format("| `{}` | {} | {} | {} | {} | {} |\n", field.path, cell(expected_text(field)),
                    range_text(field), field.required ? "required" : field.fallback,
                    cell(field.meaning), cell(field.usual));
  }
  return out;
}

}  // namespace amptally::io
