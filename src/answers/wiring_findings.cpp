#include <string>

#include <fmt/format.h>

#include "amptally/wiring.hpp"

#include "answers/finding_rules.hpp"
#include "parts/electrical_limits.hpp"

namespace amptally::inline v0_1 {
namespace {

std::optional<Finding> touch_voltage(const Site& site, const Simulation& sim) {
  // 120 V ripple-free d.c. is the upper limit of extra-low voltage, 60 V d.c. where live parts may
  // be touched in the dry: IEC 61140, from memory.
  constexpr double kTouchSafe_v = 60;
  if (site.panel.power_w <= 0) return std::nullopt;
  const double cold_v = cold_string_v(site, sim.rating);
  if (cold_v <= kTouchSafe_v) return std::nullopt;
  return Finding{
      FindingLevel::danger, "panel voltage to touch", "panel.series",
      fmt::format("At {} a string of {} panels reaches {:.0f} V open-circuit, above 60 V d.c., the "
                  "limit many codes set for touch-safe extra-low voltage; beside water it is lower "
                  "still. Sun cannot be switched off: cover the panels before working on them, or "
                  "put fewer in series. {}",
                  record_low_words(site), site.panel.series, cold_v, kDefer),
      "IEC 61140 (from memory) and local code"};
}

/// The texts of all cables that have one, and the field of the first.
struct CableTexts {
  std::string text;
  std::string field;
  bool overloaded = false;  ///< a cable of them carries more than it may
};

CableTexts cable_texts(const Site& site, const Simulation& sim,
                       std::string (*text_of)(const CableCheck&), const char* field) {
  CableTexts texts;
  std::size_t i = 0;
  for (const CableCheck& check : check_wiring(site, sim)) {
    const std::string text = text_of(check);
    if (!text.empty()) {
      if (texts.text.empty()) texts.field = fmt::format("wiring[{}].{}", i, field);
      texts.text += (texts.text.empty() ? "" : " ") + text;
      texts.overloaded |= check.current_a > check.ampacity_a;
    }
    ++i;
  }
  return texts;
}

std::optional<Finding> thin_cable(const Site& site, const Simulation& sim) {
  const CableTexts texts = cable_texts(site, sim, drop_text, "section");
  if (texts.text.empty()) return std::nullopt;
  return Finding{FindingLevel::warning, "thin cable", texts.field, texts.text,
                 "IEC 60228 class 5 or NEC Chapter 9 Table 8 at 40 °C, there and back; a pump's "
                 "flow by the affinity laws, an estimate"};
}

std::optional<Finding> unfused_cable(const Site& site, const Simulation& sim) {
  const CableTexts texts = cable_texts(site, sim, fuse_text, "section");
  if (texts.text.empty()) return std::nullopt;
  return Finding{texts.overloaded ? FindingLevel::danger : FindingLevel::warning,
                 "cable without a fuse that fits", texts.field,
                 fmt::format("{} {}", texts.text, kDefer),
                 "1.25 times the lasting current, NEC 210.20(A), for the panel 690.8; ampacities "
                 "and fuse sizes from memory"};
}

/// "of 15 A " for the battery's cable, where the site has it.
std::string battery_fuse_words(const Site& site, const Simulation& sim) {
  for (const CableCheck& check : check_wiring(site, sim)) {
    if (check.cable.feeds == "battery" && check.fuse_a) {
      return fmt::format("of {:g} A ", *check.fuse_a);
    }
  }
  return "";
}

std::optional<Finding> short_circuit(const Site& site, const Simulation& sim) {
  return Finding{
      FindingLevel::note, "short circuit and fuse", "battery",
      fmt::format("A small battery can push hundreds of amperes through a dropped spanner "
                  "or a chafed cable: put a fuse {}within a hand's breadth of its positive "
                  "pole{}. {}",
                  battery_fuse_words(site, sim),
                  site.wiring.empty() ? "" : ", and one where each thinner cable begins", kDefer),
      kPractice};
}

std::optional<Finding> water_near_electrics(const Site& site, const Simulation&) {
  if (site.loads.empty()) return std::nullopt;
  return Finding{FindingLevel::note, "water near electrics", "loads",
                 fmt::format("Pumps and valves bring water to wires: keep joints above the highest "
                             "water level, use cable glands and drip loops, and keep battery and "
                             "regulator out of the spray. {}",
                             kDefer),
                 kPractice};
}

std::optional<Finding> joints_under_water(const Site& site, const Simulation&) {
  if (!site.water || site.loads.empty()) return std::nullopt;
  return Finding{
      FindingLevel::note, "joints under water", "water",
      fmt::format("Direct current eats copper wherever a wet joint lets it leak, and twisted ends "
                  "in tape leak within weeks. Bring the pump's own cable up out of the water in "
                  "one piece; a joint that must lie in it belongs in cast resin or a glued shrink "
                  "sleeve made for that. {}",
                  kDefer),
      kPractice};
}

constexpr FindingRule kWiringRules[] = {
    touch_voltage, unfused_cable,        thin_cable,
    short_circuit, water_near_electrics, joints_under_water,
};

}  // namespace

std::vector<Finding> wiring_findings(const Site& site, const Simulation& prepared) {
  return found_by(kWiringRules, site, prepared);
}

}  // namespace amptally::inline v0_1
