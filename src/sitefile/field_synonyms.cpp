#include "sitefile/field_synonyms.hpp"

#include <algorithm>
#include <vector>

#include "amptally/battery_type.hpp"

#include "site/fields.hpp"
#include "text/ascii.hpp"
#include "text/closest_word.hpp"

namespace amptally::io {
namespace {

// Words of growers, of shops and of data sheets, chosen by us. Those for the battery types are in
// data/batteries.json.
constexpr OtherWord kOtherWords[] = {
    // objects
    {"location", "place"},
    {"coordinates", "place"},
    {"climate", "place"},
    {"module", "panel"},
    {"pv", "panel"},
    {"solar", "panel"},
    {"charger", "regulator"},
    {"controller", "regulator"},
    {"charge_controller", "regulator"},
    {"accumulator", "battery"},
    {"consumers", "loads"},
    {"devices", "loads"},
    {"pumps", "loads"},
    {"cables", "wiring"},
    {"wires", "wiring"},
    {"irrigation", "water"},
    {"target", "aim"},
    {"goal", "aim"},
    {"reservoir", "tank"},
    {"hose", "tube"},
    {"pipe", "tube"},
    {"drippers", "outlets"},
    {"emitters", "outlets"},
    {"nozzles", "outlets"},
    // place
    {"lat", "latitude"},
    {"lon", "longitude"},
    {"lng", "longitude"},
    {"altitude", "elevation"},
    {"height", "elevation"},
    {"sun", "insolation"},
    {"irradiation", "insolation"},
    {"sun_hours", "insolation"},
    {"rainfall", "rain"},
    {"precipitation", "rain"},
    {"timezone", "utc_offset"},
    {"time_zone", "utc_offset"},
    // parts
    {"watt", "power"},
    {"watts", "power"},
    {"wattage", "power"},
    {"wp", "power"},
    {"size", "power"},
    {"angle", "tilt"},
    {"slope", "tilt"},
    {"inclination", "tilt"},
    {"direction", "azimuth"},
    {"orientation", "azimuth"},
    {"facing", "azimuth"},
    {"shading", "shade"},
    {"quantity", "count"},
    {"number", "count"},
    {"type", "kind"},
    {"chemistry", "kind"},
    {"technology", "kind"},
    {"self_consumption", "standby"},
    {"idle", "standby"},
    {"quiescent", "standby"},
    {"low_voltage_disconnect", "cutoff"},
    {"lvd", "cutoff"},
    {"max_depth_of_discharge", "floor"},
    {"depth_of_discharge", "floor"},
    {"dod", "floor"},
    {"ah", "capacity"},
    {"amp_hours", "capacity"},
    {"size", "capacity"},
    {"volts", "voltage"},
    {"cost", "price"},
    // loads
    {"amps", "draw"},
    {"consumption", "draw"},
    {"current", "draw"},
    {"power", "draw"},
    {"watt", "draw"},
    {"watts", "draw"},
    {"wattage", "draw"},
    {"standby", "idle"},
    {"duration", "per_day"},
    {"hours", "per_day"},
    {"minutes", "per_day"},
    {"time", "per_day"},
    {"schedule", "runs"},
    {"times", "runs"},
    {"start", "at"},
    {"duration", "for"},
    {"minutes", "for"},
    {"season", "months"},
    {"interval", "every"},
    // wiring and water
    {"area", "section"},
    {"cross_section", "section"},
    {"gauge", "section"},
    {"awg", "section"},
    {"load", "feeds"},
    {"capacity", "volume"},
    {"litres", "volume"},
    {"size", "volume"},
    {"diameter", "bore"},
    {"inner_diameter", "bore"},
    {"lift_height", "lift"},
    {"height", "lift"},
    {"pressure", "head"},
    {"pressure", "at"},
    {"rate", "flow"},
    {"days", "autonomy"},
    {"days_of_autonomy", "autonomy"},
};

bool is_same(std::string_view a, std::string_view small_letters) {
  return std::equal(a.begin(), a.end(), small_letters.begin(), small_letters.end(),
                    [](char x, char y) { return lower(x == ' ' || x == '-' ? '_' : x) == y; });
}

std::string without_brackets(std::string_view path) {
  const std::optional<FieldPath> parsed = FieldPath::parsed(path);
  return parsed ? parsed->names() : std::string(path);
}

/// The fields inside the object, or a list's elements, that the last name of `names` is looked for
/// in; none where that is the root.
std::vector<const Field*> beside(std::string_view names) {
  const std::size_t dot = names.rfind('.');
  const Field* const object = dot == names.npos ? nullptr : field_meant_by(names.substr(0, dot));
  if (object == nullptr) return {};
  const bool is_list = object->type == FieldType::list;
  return fields_inside(std::string(object->path) + (is_list ? "[]" : ""));
}

std::vector<std::string_view> field_names(const std::vector<const Field*>& fields) {
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

}  // namespace

std::span<const OtherWord> other_words() {
  static const std::vector<OtherWord> all = [] {
    std::vector<OtherWord> words(std::begin(kOtherWords), std::end(kOtherWords));
    for (const BatteryType& type : battery_types()) {
      for (const std::string_view other : type.other_words) words.push_back({other, type.name});
    }
    return words;
  }();
  return all;
}

std::string_view other_word(std::string_view word, std::span<const std::string_view> candidates) {
  for (const OtherWord& pair : other_words()) {
    if (!is_same(word, pair.written)) continue;
    const auto it = std::find(candidates.begin(), candidates.end(), pair.meant);
    if (it != candidates.end()) return *it;
  }
  return {};
}

std::string_view likely_word(std::string_view word, std::span<const std::string_view> candidates) {
  const std::string_view other = other_word(word, candidates);
  return other.empty() ? near_miss(word, candidates) : other;
}

std::string near_miss_field(std::string_view path) {
  const std::string plain = without_brackets(path);
  if (const auto members = beside(plain); !members.empty()) {
    const std::string_view last = std::string_view(plain).substr(plain.rfind('.') + 1);
    const Field* const likely = named(likely_word(last, field_names(members)), members);
    return likely == nullptr ? "" : with_brackets_of(path, likely->path);
  }
  std::vector<const Field*> all;
  std::vector<std::string> spelled;
  for (const Field& field : all_fields()) {
    all.push_back(&field);
    spelled.push_back(without_brackets(field.path));
  }
  const std::vector<std::string_view> names = field_names(all);
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

}  // namespace amptally::io
