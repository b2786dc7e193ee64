#include "sitefile/parts_list_fields.hpp"

#include <deque>
#include <string>

namespace amptally::io {

namespace {

using Names = std::span<const std::string_view>;

constexpr std::string_view kPanelLabel[] = {
    "power", "vmp", "imp", "voc", "isc", "temp_coeff_power", "temp_coeff_voc", "noct"};
constexpr std::string_view kBatteryLabel[] = {
    "kind",    "voltage",        "capacity", "rated_hours", "max_charge_current",
    "peukert", "self_discharge", "cycles",   "shelf_life"};
constexpr std::string_view kRegulatorLabel[] = {"kind",        "standby",           "efficiency",
                                                "max_current", "max_panel_voltage", "cutoff",
                                                "reconnect",   "absorption"};

/// Keeps a path that was put together for as long as the program runs.
std::string_view kept(std::string path) {
  static std::deque<std::string> paths;
  return paths.emplace_back(std::move(path));
}

void add_root(std::vector<Field>& fields) {
  fields.push_back({.path = "format",
                    .type = FieldType::choice,
                    .choices = {"amptally-parts/1"},
                    .required = true,
                    .meaning = "Says that this is a parts list, and of which edition."});
  fields.push_back({.path = "name", .type = FieldType::text, .meaning = "A title, for people."});
  fields.push_back({.path = "notes",
                    .type = FieldType::anything,
                    .meaning = "Remarks for people. Allowed on every object, and ignored."});
}

/// A list of parts that say of themselves what `object` of the site file says.
void add_parts(std::vector<Field>& fields, const std::string& list, const std::string& object,
               std::string_view meaning, Names label) {
  fields.push_back(
      {.path = kept(list), .type = FieldType::list, .required = true, .meaning = meaning});
  fields.push_back({.path = kept(list + "[].name"),
                    .type = FieldType::text,
                    .required = true,
                    .meaning = "What the output calls it."});
  fields.push_back({.path = kept(list + "[].price"),
                    .limits = {{Dimension::number, 0, 1e9}},
                    .required = true,
                    .exact = true,
                    .meaning = "Of one, in any money: the same throughout the list."});
  for (const std::string_view name : label) {
    Field field = *find_field(object + "." + std::string(name));
    field.path = kept(list + "[]." + std::string(name));
    field.exact = true;
    fields.push_back(std::move(field));
  }
}

std::vector<Field> every_parts_field() {
  std::vector<Field> fields;
  add_root(fields);
  add_parts(fields, "panels", "panel", "Panels to choose from.", kPanelLabel);
  add_parts(fields, "batteries", "battery", "Batteries to choose from.", kBatteryLabel);
  add_parts(fields, "regulators", "regulator", "Regulators to choose from.", kRegulatorLabel);
  for (Field& field : fields) {
    if (field.path == "batteries[].max_charge_current") {
      field.meaning = "Most current one battery may be charged with.";
    }
  }
  return fields;
}

}  // namespace

std::span<const Field> parts_fields() {
  static const std::vector<Field> fields = every_parts_field();
  return fields;
}

}  // namespace amptally::io
