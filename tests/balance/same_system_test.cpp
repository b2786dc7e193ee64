#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "amptally/battery.hpp"
#include "amptally/resize.hpp"
#include "amptally/study.hpp"

#include "catch.hpp"
#include "random_site.hpp"

// One system, written down in other words: its year must not know the difference.

using namespace amptally;

namespace {

// What only orders or factors of two are changed in stays the same to the last bit. Where sums are
// taken in another order, or a voltage is worked out anew, it is 8,760 roundings of 1e-16 more or
// less; a label's voltages are taken to a billionth.
constexpr double kRounding = 1e-8;

struct Restated {
  std::string how;
  Site site;
  bool to_the_bit;
};

Load half_of(Load load) {
  load.draw.value /= 2;
  if (load.idle) load.idle->value /= 2;
  return load;
}

Site loads_reversed(Site site) {
  std::reverse(site.loads.begin(), site.loads.end());
  return site;
}

Site first_load_in_two(Site site) {
  if (site.loads.empty()) return site;
  site.loads[0] = half_of(site.loads[0]);
  Load twin = site.loads[0];
  twin.name += " again";
  site.loads.push_back(twin);
  return site;
}

Site twice_the_loads_of_half(Site site) {
  for (Load& load : site.loads) {
    load = half_of(load);
    load.count *= 2;
  }
  return site;
}

Site twice_the_panels_of_half(Site site) {
  site = with_panel_power(site, site.panel.power_w / 2);
  site.panel.count *= 2;
  return site;
}

// Strings of twice as many panels, each of half the voltage. Only a label with both its voltages
// says what half of it would be.
Site panels_cut_in_two(Site site) {
  Panel& panel = site.panel;
  if (!panel.vmp_v || !panel.voc_v) return site;
  panel.vmp_v = *panel.vmp_v / 2;
  panel.voc_v = *panel.voc_v / 2;
  panel.power_w /= 2;
  panel.count *= 2;
  panel.series *= 2;
  return site;
}

Site twice_the_strings_of_half(Site site) {
  site.battery.capacity_ah /= 2;
  site.battery.parallel *= 2;
  return site;
}

// Batteries of half the cells, where there is a whole number of them.
Site batteries_cut_in_two(Site site) {
  Battery half = site.battery;
  half.voltage_v /= 2;
  half.series *= 2;
  const bool holds_a_cell = half.voltage_v >= 2;  // no battery has fewer volts
  if (holds_a_cell && bank_cells(half) == bank_cells(site.battery)) site.battery = half;
  return site;
}

std::vector<Restated> in_other_words(const Site& site) {
  return {{"as it is", site, true},
          {"loads reversed", loads_reversed(site), false},
          {"first load in two", first_load_in_two(site), false},
          {"twice the loads of half the draw", twice_the_loads_of_half(site), true},
          {"twice the panels of half the power", twice_the_panels_of_half(site), true},
          {"panels cut in two, in series", panels_cut_in_two(site), false},
          {"twice the battery strings of half", twice_the_strings_of_half(site), true},
          {"batteries cut in two, in series", batteries_cut_in_two(site), true}};
}

bool alike(double a, double b, double scale) { return std::abs(a - b) <= kRounding * scale; }

bool alike(const YearBalance& a, const YearBalance& b) {
  return alike(a.use_ah, b.use_ah, a.use_ah) && alike(a.charge_ah, b.charge_ah, a.charge_ah) &&
         alike(a.standby_ah, b.standby_ah, a.standby_ah) &&
         alike(a.served_share, b.served_share, 1) &&
         alike(a.deepest_discharge, b.deepest_discharge, 1);
}

}  // namespace

TEST_CASE("a system described in other words has the same year", "[study][property]") {
  for (const std::uint64_t seed : testing::seeds_to_run(1000)) {
    const testing::RandomSite made = testing::random_site_file(seed);
    const std::vector<Restated> restated = in_other_words(made.site);
    std::vector<Site> sites;
    for (const Restated& one : restated) sites.push_back(one.site);
    const std::vector<JudgedYear> outcomes = Study(made.site, {}).run(sites);
    for (std::size_t i = 1; i < restated.size(); ++i) {
      INFO("seed " << seed << ", " << restated[i].how << ", site:\n" << made.text);
      if (restated[i].to_the_bit) {
        REQUIRE(outcomes[i].year == outcomes[0].year);
      } else {
        REQUIRE(alike(outcomes[i].year, outcomes[0].year));
      }
    }
  }
}
