#include "sitefile/field_synonyms.hpp"

#include <algorithm>
#include <vector>

#include "amptally/battery_type.hpp"

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

}  // namespace amptally::io
