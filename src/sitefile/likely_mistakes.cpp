#include "sitefile/likely_mistakes.hpp"

#include <utility>

#include <fmt/format.h>

#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

std::string object_meant(std::string_view pattern, const Node& node) {
  if (node.kind != Node::Kind::string) return {};
  if (pattern == "loads[].runs[]") return "write {\"at\": \"06:30\", \"for\": \"10 min\"}";
  // The member that a single text most often stands for, by field.
  static constexpr std::pair<std::string_view, std::string_view> kMembers[] = {
      {"place", "name"}, {"panel", "power"}, {"regulator", "kind"}, {"battery", "capacity"}};
  for (const auto& [object, member] : kMembers) {
    if (object == pattern) return fmt::format("write {{\"{}\": {}}}", member, in_quotes(node.text));
  }
  return {};
}

std::optional<std::string> azimuth_meant(const Field& field, std::string_view text) {
  static constexpr std::pair<std::string_view, int> kCompass[] = {
      {"north", 0},   {"n", 0},   {"northeast", 45},  {"ne", 45},
      {"east", 90},   {"e", 90},  {"southeast", 135}, {"se", 135},
      {"south", 180}, {"s", 180}, {"southwest", 225}, {"sw", 225},
      {"west", 270},  {"w", 270}, {"northwest", 315}, {"nw", 315},
  };
  if (field_name(field) != "azimuth") return std::nullopt;
  std::string word;
  for (const char c : text) {
    if (c != ' ' && c != '-') word += lower(c);
  }
  for (const auto& [point, deg] : kCompass) {
    if (word == point) {
      return fmt::format("{}: degrees clockwise from north are expected (write {})",
                         in_quotes(text), deg);
    }
  }
  return std::nullopt;
}

std::string battery_meant(const Field& field, std::string_view word) {
  if (field.path != "battery.kind") return {};
  std::string low;
  for (const char c : word) low += lower(c);
  const bool is_lead = low == "sla" || low == "vrla" || low.find("lead") != low.npos ||
                       low.find("sealed") != low.npos;
  return is_lead ? "a sealed lead battery is \"agm\" or \"gel\", one with caps \"flooded\"" : "";
}

}  // namespace amptally::io
