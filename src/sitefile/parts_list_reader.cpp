#include "sitefile/parts_list_reader.hpp"

#include <fmt/format.h>

#include "sitefile/object_reader.hpp"
#include "sitefile/parts_list_fields.hpp"
#include "sitefile/section_readers.hpp"

namespace amptally::io {

namespace {

/// Reads each element of a list: name and price, and the rest by `read_label`.
template <class Part, class ReadLabel>
std::vector<Part> read_list(Reading& reading, ObjectReader& root, const char* list,
                            const ReadLabel& read_label) {
  std::vector<Part> parts;
  const std::size_t problems_before = reading.problems.size();
  for (ObjectReader& in : root.list(list)) {
    Part part{.name = in.text("name"), .price = in.value_or("price", 0)};
    const std::size_t said_before = reading.site.assumptions.size();
    read_label(in, part);
    for (std::size_t i = said_before; i < reading.site.assumptions.size(); ++i) {
      std::string& text = reading.site.assumptions[i].text;
      text = part.name + ": " + text;
    }
    require_new_name(in, part.name, parts, "one");
    parts.push_back(std::move(part));
  }
  const bool is_empty = root.has(list) && parts.empty();
  if (is_empty && reading.problems.size() == problems_before) {
    root.problem(list, "is empty: there is nothing to choose from");
  }
  return parts;
}

PartsList read_root(Reading& reading, const Node& node) {
  ObjectReader root(reading, node, "");
  (void)root.choice_word("format");
  (void)root.text("name");
  PartsList parts;
  parts.panels = read_list<PanelPart>(
      reading, root, "panels",
      [&](ObjectReader& in, PanelPart& part) { read_panel_label(reading, in, part.panel); });
  parts.batteries = read_list<BatteryPart>(
      reading, root, "batteries",
      [&](ObjectReader& in, BatteryPart& part) { read_battery_label(reading, in, part.battery); });
  parts.regulators = read_list<RegulatorPart>(reading, root, "regulators",
                                              [&](ObjectReader& in, RegulatorPart& part) {
                                                read_regulator_label(reading, in, part.regulator);
                                              });
  parts.assumptions = std::move(reading.site.assumptions);
  return parts;
}

}  // namespace

PartsReadResult read_parts(std::string_view text, const std::string& file_name) {
  Reading reading{
      .file = file_name, .settings = {}, .site = {}, .problems = {}, .fields = parts_fields()};
  PartsReadResult result;
  if (const std::optional<Node> root = root_object(reading, text, "a parts list")) {
    result.parts = read_root(reading, *root);
  }
  sort_by_place(reading.problems);
  result.problems = std::move(reading.problems);
  if (!result.problems.empty()) result.parts.reset();
  return result;
}

}  // namespace amptally::io
