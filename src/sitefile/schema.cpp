#include "sitefile/schema.hpp"

#include <initializer_list>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "site/fields.hpp"
#include "sitefile/json_text.hpp"
#include "sitefile/parts_list_fields.hpp"
#include "sitefile/read_schedules.hpp"

namespace amptally::io {

namespace {

using FieldList = std::span<const Field>;

Node text(std::string_view value) {
  Node node;
  node.kind = Node::Kind::string;
  node.text = value;
  return node;
}

Node number(double value) {
  Node node;
  node.kind = Node::Kind::number;
  node.number = value;
  return node;
}

Node boolean(bool value) {
  Node node;
  node.kind = Node::Kind::boolean;
  node.boolean = value;
  return node;
}

Node list(std::vector<Node> elements) {
  Node node;
  node.kind = Node::Kind::list;
  node.children = std::move(elements);
  return node;
}

void add(Node& object, std::string_view key, Node value) {
  value.key = key;
  object.children.push_back(std::move(value));
}

Node object(std::initializer_list<std::pair<std::string_view, Node>> members = {}) {
  Node node;
  node.kind = Node::Kind::object;
  for (const auto& [key, value] : members) add(node, key, value);
  return node;
}

Node texts(std::initializer_list<std::string_view> words) {
  std::vector<Node> nodes;
  for (const std::string_view word : words) nodes.push_back(text(word));
  return list(std::move(nodes));
}

Node typed(std::string_view type) { return object({{"type", text(type)}}); }

Node number_or_text() { return object({{"type", texts({"number", "string"})}}); }

/// Twelve of what `item` describes.
Node twelve(Node item) {
  Node node = typed("array");
  add(node, "items", std::move(item));
  add(node, "minItems", number(12));
  add(node, "maxItems", number(12));
  return node;
}

/// A bare number is in the base unit of the first dimension.
void add_range(Node& node, const Field& field) {
  if (field.limits.empty()) return;
  const Limits& limits = field.limits.front();
  add(node, limits.above_low ? "exclusiveMinimum" : "minimum", number(limits.low));
  add(node, "maximum", number(limits.high));
}

Node quantity_schema(const Field& field) {
  Node node = number_or_text();
  add_range(node, field);
  return node;
}

Node integer_schema(const Field& field) {
  const bool has_unit = field.limits.front().dimension != Dimension::number;
  Node node = has_unit ? object({{"type", texts({"integer", "string"})}}) : typed("integer");
  add_range(node, field);
  return node;
}

Node object_schema(std::string_view pattern, FieldList fields);

Node cycle_point_schema() {
  Node pair = typed("array");
  add(pair, "items", list({number_or_text(), typed("number")}));
  add(pair, "minItems", number(2));
  add(pair, "maxItems", number(2));
  Node node = typed("array");
  add(node, "items", std::move(pair));
  add(node, "minItems", number(1));
  return node;
}

Node months_schema() {
  Node several = typed("array");
  add(several, "items", typed("string"));
  add(several, "minItems", number(1));
  return object({{"anyOf", list({typed("string"), std::move(several)})}});
}

Node choice_schema(const Field& field) {
  std::vector<Node> words;
  for (const Choice& choice : field.choices) words.push_back(text(choice.word));
  return object({{"enum", list(std::move(words))}});
}

Node list_schema(const Field& field, FieldList fields) {
  Node node = typed("array");
  add(node, "items", object_schema(std::string(field.path) + "[]", fields));
  return node;
}

Node value_schema(const Field& field, FieldList fields) {
  switch (field.type) {
    case FieldType::object:
      return object_schema(field.path, fields);
    case FieldType::list:
      return list_schema(field, fields);
    case FieldType::choice:
      return choice_schema(field);
    case FieldType::boolean:
      // The one there is, a load's "always", says nothing when it is false (read_schedules.cpp).
      return object({{"const", boolean(true)}});
    case FieldType::integer:
      return integer_schema(field);
    case FieldType::quantity:
      return quantity_schema(field);
    case FieldType::monthly:
      // Bare insolation values are in the unit beside them, so their range is not known here.
      return twelve(field.path == "place.insolation.values" ? number_or_text()
                                                            : quantity_schema(field));
    case FieldType::insolation:
      return object(
          {{"anyOf", list({twelve(quantity_schema(field)), object_schema(field.path, fields)})}});
    case FieldType::demand:
      return object({{"anyOf", list({quantity_schema(field), object_schema(field.path, fields)})}});
    case FieldType::months:
      return months_schema();
    case FieldType::cycle_points:
      return cycle_point_schema();
    case FieldType::time_of_day:
      return object({{"type", text("string")}, {"pattern", text("^[0-9]{1,2}:[0-9]{2}$")}});
    case FieldType::text:
      return object({{"type", text("string")}, {"minLength", number(1)}});
    case FieldType::azimuth_extent:
      return typed("string");
    case FieldType::anything:
      break;
  }
  return object();
}

Node described_schema(const Field& field, FieldList fields) {
  Node node = value_schema(field, fields);
  std::string description(field.meaning);
  if (!field.limits.empty()) {
    description += fmt::format(" Write {}; allowed {}.", expected_text(field), range_text(field));
  }
  if (!field.fallback.empty()) description += fmt::format(" Default: {}.", field.fallback);
  add(node, "description", text(description));
  return node;
}

/// Which fields exclude or need each other, where a schema can say it.
void add_alternatives(Node& node, std::string_view pattern) {
  const auto needs = [](std::initializer_list<std::string_view> names) {
    return object({{"required", texts(names)}});
  };
  if (pattern == "loads[]") {
    std::vector<Node> schedules;
    for (const ScheduleField& field : schedule_fields()) schedules.push_back(needs({field.name}));
    add(node, "oneOf", list(std::move(schedules)));
  } else if (pattern == "place") {
    add(node, "anyOf", list({needs({"latitude", "longitude"}), needs({"name"})}));
  } else if (pattern == "panel" || pattern == "panels[]") {
    add(node, "anyOf", list({needs({"power"}), needs({"vmp", "imp"})}));
  } else if (pattern == "water.lines[].demand") {
    add(node, "oneOf", list({needs({"plants", "each"}), needs({"area", "crop"})}));
  }
}

Node object_schema(std::string_view pattern, FieldList fields) {
  Node properties = object();
  Node required = list({});
  for (const Field* field : fields_inside(pattern, fields)) {
    add(properties, field_name(*field), described_schema(*field, fields));
    if (field->required) required.children.push_back(text(field_name(*field)));
  }
  if (properties.member("notes") == nullptr) add(properties, "notes", object());
  Node node = typed("object");
  add(node, "properties", std::move(properties));
  if (!required.children.empty()) add(node, "required", std::move(required));
  add_alternatives(node, pattern);
  add(node, "additionalProperties", boolean(false));
  return node;
}

std::string schema_of(std::string_view title, FieldList fields) {
  Node root = object(
      {{"$schema", text("http://json-schema.org/draft-07/schema#")}, {"title", text(title)}});
  Node file = object_schema("", fields);
  for (Node& member : file.children) root.children.push_back(std::move(member));
  return to_text(root);
}

}  // namespace

std::string site_schema() { return schema_of("Site file, amptally-site/1", all_fields()); }

std::string parts_schema() { return schema_of("Parts list, amptally-parts/1", parts_fields()); }

}  // namespace amptally::io
