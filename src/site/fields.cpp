#include "site/fields.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "text/message_text.hpp"

namespace amptally::inline v0_1 {

namespace {

/// Whether the field is directly inside the object; asked of every field for every object read.
bool is_inside(std::string_view path, std::string_view object) {
  if (object.empty()) return path.find('.') == path.npos;
  return path.size() > object.size() && path[object.size()] == '.' && path.starts_with(object) &&
         path.find('.', object.size() + 1) == path.npos;
}

std::string_view last_part(std::string_view path) { return path.substr(path.rfind('.') + 1); }

std::string units_text(const Field& field) {
  std::vector<std::string_view> symbols;
  for (const Limits& limits : field.limits) {
    for (const std::string_view symbol : unit_symbols(limits.dimension)) symbols.push_back(symbol);
  }
  return any_of(symbols);
}

std::string choices_text(const Field& field) {
  std::vector<std::string> words;
  for (const Choice& choice : field.choices) words.push_back(in_quotes(choice.word));
  const std::vector<std::string_view> views(words.begin(), words.end());
  return any_of(views);
}

std::string quantity_text(const Field& field) {
  const std::string units = units_text(field);
  return units.empty() ? "a number" : "a quantity in " + units;
}

const Limits* find_limits(const std::vector<Limits>& all, Dimension dimension) {
  const auto it = std::find_if(all.begin(), all.end(),
                               [&](const Limits& l) { return l.dimension == dimension; });
  return it == all.end() ? nullptr : &*it;
}

}  // namespace

const Field* find_field(std::string_view pattern, std::span<const Field> fields) {
  const auto it = std::find_if(fields.begin(), fields.end(),
                               [&](const Field& field) { return field.path == pattern; });
  return it == fields.end() ? nullptr : &*it;
}

std::optional<FieldAt> field_at(std::string_view path) {
  const std::optional<FieldPath> parts = FieldPath::parsed(path);
  const std::optional<PathIndices> indices = parts ? parts->indices() : std::nullopt;
  if (!indices) return std::nullopt;
  const std::string pattern = parts->pattern();
  if (const Field* const field = find_field(pattern)) return FieldAt{field, *indices, false};
  if (!pattern.ends_with("[]")) return std::nullopt;
  const Field* const field = find_field(std::string_view(pattern).substr(0, pattern.size() - 2));
  return field != nullptr ? std::optional(FieldAt{field, *indices, true}) : std::nullopt;
}

const Field* field_meant_by(std::string_view path) {
  const std::optional<FieldPath> asked = FieldPath::parsed(path);
  if (!asked) return nullptr;
  const std::string names = asked->names();
  for (const Field& field : all_fields()) {
    if (FieldPath::parsed(field.path)->names() == names) return &field;
  }
  if (last_part(names) != "notes") return nullptr;
  const std::string_view object = std::string_view(names).substr(0, names.rfind('.'));
  const Field* const owner = object.size() < names.size() ? field_meant_by(object) : nullptr;
  return owner != nullptr && with_members(*owner).size() > 1 ? find_field("notes") : nullptr;
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

std::vector<const Field*> fields_inside(std::string_view object_pattern,
                                        std::span<const Field> fields) {
  std::vector<const Field*> out;
  for (const Field& field : fields) {
    if (is_inside(field.path, object_pattern)) out.push_back(&field);
  }
  return out;
}

std::string_view field_name(const Field& field) { return last_part(field.path); }

bool is_by_month(const Field& field) {
  return field.type == FieldType::monthly || field.type == FieldType::insolation;
}

const Limits* limits_in(const Field& field, Dimension dimension) {
  return find_limits(field.limits, dimension);
}

const Limits* site_limits_of(const Field& field, std::optional<Dimension> said_in) {
  const std::vector<Limits>& all = field.site_limits.empty() ? field.limits : field.site_limits;
  return said_in ? find_limits(all, *said_in) : &all.front();
}

std::vector<std::string_view> choice_words(const Field& field) {
  std::vector<std::string_view> words;
  for (const Choice& choice : field.choices) words.push_back(choice.word);
  return words;
}

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

}  // namespace amptally::inline v0_1
