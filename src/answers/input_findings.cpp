// What can be asked of a site before a year is run: figures so far from usual ones that another
// unit was likely meant, and a sun from far away.

#include <algorithm>
#include <array>
#include <string>

#include <fmt/format.h>

#include "amptally/climate.hpp"
#include "amptally/findings.hpp"

#include "answers/finding_rules.hpp"

namespace amptally::inline v0_1 {
namespace {

// A figure, and between which figures its kind usually lies. All bounds: common practice, no
// source.
struct Sized {
  std::string field;
  std::string topic;
  double value;
  double low;   ///< 0 for none
  double high;  ///< 0 for none
  const char* unit;
  std::array<const char*, 2> other;  ///< units 1000 times smaller and larger
};

constexpr double kLeastBattery_ah = 0.1;

// As people write it: 0.018 Ah is "18 mAh", 60000 W "60 kW".
std::string as_written(const Sized& sized, double value) {
  if (value < 1) return fmt::format("{:g} {}", 1000 * value, sized.other[0]);
  if (value >= 1000) return fmt::format("{:g} {}", value / 1000, sized.other[1]);
  return fmt::format("{:g} {}", value, sized.unit);
}

void check_size(const Sized& sized, std::vector<Finding>& found) {
  const bool small = sized.low > 0 && sized.value > 0 && sized.value < sized.low;
  const bool large = sized.high > 0 && sized.value > sized.high;
  if (!small && !large) return;
  const double meant = small ? 1000 * sized.value : sized.value / 1000;
  found.push_back({FindingLevel::warning, "unusual figure", sized.field,
                   fmt::format("{} is very {} for {}: is the unit right? Perhaps {} was meant.",
                               as_written(sized, sized.value), small ? "little" : "much",
                               sized.topic, as_written(sized, meant)),
                   kPractice});
}

// A current that would empty the battery within the hour, or the most that any small load takes.
double most_draw_a(const Site& site) {
  constexpr double kMost_a = 100;
  // A capacity that is a slip itself tells nothing of the loads.
  return site.battery.capacity_ah < kLeastBattery_ah
             ? kMost_a
             : std::min(kMost_a, site.battery.bank_capacity_ah());
}

void check_draw(const Site& site, const std::string& field, const std::string& topic,
                const Draw& draw, double most_a, std::vector<Finding>& found) {
  if (draw.unit == Draw::Unit::watts) {
    check_size({.field = field,
                .topic = topic,
                .value = draw.value,
                .low = 0,
                .high = most_a * site.battery.bank_voltage_v(),
                .unit = "W",
                .other = {"mW", "kW"}},
               found);
    return;
  }
  check_size({.field = field,
              .topic = topic,
              .value = draw.value,
              .low = 0,
              .high = most_a,
              .unit = "A",
              .other = {"mA", "kA"}},
             found);
}

void check_distance(const Site& site, std::vector<Finding>& found) {
  const ClimateOrigin& origin = site.place.climate;
  // A weather file is judged by its own distance, and is no table.
  if (origin.own_sun || origin.uncertainty_share <= 0 || origin.distance_km < kFarTable_km) {
    return;
  }
  found.push_back(
      {FindingLevel::warning, "sun of another place", "place.insolation",
       fmt::format("The sun is that of {}, {:.0f} km away: a month's figure is good to about "
                   "{:.0f} %. Give twelve values of your own, or a weather file.",
                   origin.table, origin.distance_km, 100 * origin.uncertainty_share),
       "computed from the shipped table: how cells so far apart differ"});
}

}  // namespace

std::vector<Finding> input_findings(const Site& site) {
  std::vector<Finding> found;
  check_size({.field = "panel.power",
              .topic = "one panel",
              .value = site.panel.power_w,
              .low = 0.1,
              .high = 2000,
              .unit = "W",
              .other = {"mW", "kW"}},
             found);
  check_size({.field = "battery.capacity",
              .topic = "a battery",
              .value = site.battery.capacity_ah,
              .low = kLeastBattery_ah,
              .high = 5000,
              .unit = "Ah",
              .other = {"mAh", "kAh"}},
             found);
  check_draw(site, "regulator.standby", "what a regulator takes for itself", site.regulator.standby,
             1, found);
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    const Load& load = site.loads[i];
    check_draw(site, fmt::format("loads[{}].draw", i), "one " + load.name + " on this battery",
               load.draw, most_draw_a(site), found);
    if (!load.idle) continue;
    check_draw(site, fmt::format("loads[{}].idle", i), load.name + " when it is off", *load.idle, 1,
               found);
  }
  check_distance(site, found);
  return found;
}

}  // namespace amptally::inline v0_1
