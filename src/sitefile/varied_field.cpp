#include "sitefile/varied_field.hpp"

#include <utility>

#include <fmt/format.h>

#include "sitefile/object_reader.hpp"
#include "sitefile/setting.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

Quantity whole(const Field& field, int value) {
  const double exact = value;
  return {exact, exact, exact, field.limits.front().dimension};
}

/// Reads the one member of `in` as the site's reader would.
std::optional<Quantity> read_alone(ObjectReader& in, const Field& field, Node::Kind kind) {
  const std::string_view name = field_name(field);
  switch (field.type) {
    case FieldType::quantity:
      return in.quantity(name);
    case FieldType::integer:
      return whole(field, in.integer_or(name, 0));
    case FieldType::demand:
      if (kind != Node::Kind::object) return in.quantity(name);
      break;
    case FieldType::text:
      (void)in.text(name);
      break;
    case FieldType::choice:
      (void)in.choice_word(name);
      break;
    case FieldType::boolean:
      (void)in.boolean(name);
      break;
    case FieldType::monthly:
      (void)in.monthly(name);
      break;
    case FieldType::months:
      (void)in.months(name);
      break;
    case FieldType::time_of_day:
      (void)in.minutes_of_day(name);
      break;
    case FieldType::azimuth_extent:
      (void)in.azimuth_extent(name);
      break;
    case FieldType::cycle_points:
      (void)in.cycle_points(name);
      break;
    case FieldType::object:
    case FieldType::list:
    case FieldType::insolation:
    case FieldType::anything:
      break;
  }
  return std::nullopt;
}

std::string unit_words(Dimension dimension) {
  const std::string_view unit = base_unit(dimension);
  return unit.empty() ? "plain numbers" : std::string(unit);
}

}  // namespace

VariedField varied_field(const std::string& path) {
  return {.path = path, .field = &known_field(path)};
}

VariedValue varied_value(const VariedField& field, std::string_view text, const std::string& shown,
                         std::vector<Problem>& problems) {
  VariedValue value{.node = setting_value(text), .text = std::string(text)};
  if (value.node.kind == Node::Kind::string) value.text = value.node.text;

  // An object with this member alone, so that its mistakes are told in the reader's own words.
  const Setting setting{.path = field.path, .value = value.text, .shown = shown};
  Reading reading{"", {&setting, 1}, {}, {}};
  Node object;
  object.kind = Node::Kind::object;
  Node& member = object.children.emplace_back(value.node);
  member.key = field_name(*field.field);
  member.setting = 0;
  // The pattern's path, loads[], not the user's: which load it is, by index or by name, does not
  // matter to one value.
  const std::string_view pattern = field.field->path;
  const std::size_t dot = pattern.rfind('.');
  ObjectReader in(reading, object, std::string(pattern.substr(0, dot == pattern.npos ? 0 : dot)));
  if (const auto given = read_alone(in, *field.field, value.node.kind)) {
    value.number = given->middle;
    value.dimension = given->dimension;
  }
  for (Problem& problem : reading.problems) {
    problem.field = on_one_line(field.path);
    problems.push_back(std::move(problem));
  }
  return value;
}

void settle_dimension(VariedField& field, const VariedValue& value, const std::string& shown,
                      std::vector<Problem>& problems) {
  if (!value.number) return;
  if (!field.dimension) field.dimension = value.dimension;
  if (*field.dimension == value.dimension) return;
  problems.push_back({shown, 0, 0, on_one_line(field.path),
                      fmt::format("{} is in {}, a value before it in {} (one kind of unit for all)",
                                  in_quotes(value.text), unit_words(value.dimension),
                                  unit_words(*field.dimension))});
}

}  // namespace amptally::io
