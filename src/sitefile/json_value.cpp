#include "sitefile/json_value.hpp"

#include <cassert>
#include <cmath>
#include <utility>

#include "text/told_number.hpp"

namespace amptally::io {

Json::Json(std::string_view value) {
  kind = Kind::string;
  text = value;
}

Json::Json(double value) {
  if (!std::isfinite(value)) return;
  kind = Kind::number;
  number = as_told(value);
  text = json_number(number);
}

Json::Json(std::initializer_list<JsonMember> members) : Json(object()) {
  for (const JsonMember& member : members) add(member.key, member.value);
}

Json Json::list() {
  Json json;
  json.kind = Kind::list;
  return json;
}

Json Json::object() {
  Json json;
  json.kind = Kind::object;
  return json;
}

void Json::add(std::string_view name, Json value) {
  assert(member(name) == nullptr);
  value.key = name;
  children.push_back(std::move(value));
}

void Json::push(Json value) { children.push_back(std::move(value)); }

}  // namespace amptally::io
