#include "random_site.hpp"

#include <array>
#include <cmath>
#include <map>
#include <string>

#include "catch.hpp"

using namespace amptally;

namespace {

/// Counts what the sites have; the name says what.
using Tally = std::map<std::string, int>;

void count_loads(Tally& tally, const Site& site) {
  static constexpr std::array<const char*, 4> kSchedules = {"always", "per day", "runs",
                                                            "from water"};
  if (site.loads.empty()) ++tally["no loads"];
  for (const Load& load : site.loads) {
    ++tally[kSchedules.at(load.schedule.index())];
    const auto* per_day = std::get_if<PerDay>(&load.schedule);
    if (per_day && per_day->when == When::day) ++tally["by day"];
    if (per_day && per_day->when == When::night) ++tally["by night"];
    if (load.every_days > 1) ++tally["not every day"];
    if (!load.months.all()) ++tally["not all year"];
    if (load.idle) ++tally["idle draw"];
  }
}

void count_parts(Tally& tally, const Site& site) {
  const Panel& panel = site.panel;
  if (panel.power_w == 0) ++tally["no panel"];
  if (!panel.vmp_v && !panel.voc_v) ++tally["label of power only"];
  if (panel.vmp_v && !panel.voc_v) ++tally["label with vmp"];
  if (!panel.vmp_v && panel.voc_v) ++tally["label with voc"];
  if (panel.vmp_v && panel.voc_v && panel.imp_a && panel.isc_a) ++tally["whole label"];
  if (panel.series > 1) ++tally["strings"];
  if (!panel.shade.empty()) ++tally["shade"];
  ++tally["regulator " + std::to_string(static_cast<int>(site.regulator.kind))];
  ++tally["battery " + std::to_string(static_cast<int>(site.battery.kind))];
  const auto& cutoff = site.regulator.cutoff;
  if (cutoff && cutoff->unit == Threshold::Unit::volts) ++tally["cutoff in volts"];
  if (cutoff && cutoff->unit == Threshold::Unit::state_of_charge) ++tally["cutoff in per cent"];
  if (panel.power_w > 0 && panel.power_w < 1) ++tally["below 1 W"];
  if (panel.power_w > 1000) ++tally["above 1 kW"];
}

void count_place(Tally& tally, const Site& site) {
  const Place& place = site.place;
  ++tally[place.latitude_deg < 0 ? "south" : "north"];
  if (std::abs(place.latitude_deg) > 66.6) ++tally["polar"];
  if (std::abs(place.latitude_deg) < 23.4) ++tally["tropics"];
  if (std::abs(place.latitude_deg) == 90) ++tally["a pole"];
  if (!place.climate.own_sun) ++tally["shipped sun"];
  for (const double temp_c : place.air_temp_c) {
    if (temp_c < -20) ++tally["deep frost"];
    if (temp_c > 30) ++tally["heat"];
  }
  if (!site.rough.empty()) ++tally["rough"];
  if (!site.wiring.empty()) ++tally["cables"];
  if (site.water && site.water->tank) ++tally["tank"];
}

}  // namespace

TEST_CASE("the sites of chance that are run have everything a site can have", "[property]") {
  Tally tally;
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    const Site site = testing::random_site_file(seed).site;
    count_place(tally, site);
    count_parts(tally, site);
    count_loads(tally, site);
  }
  CHECK(tally.size() == 39);
  for (const auto& [what, count] : tally) {
    CAPTURE(what, count);
    CHECK(count >= 8);
  }
}

TEST_CASE("a site of chance is the same each time it is made", "[property]") {
  CHECK(testing::random_site_file(7).text == testing::random_site_file(7).text);
  CHECK(testing::random_site_file(7).text != testing::random_site_file(8).text);
}
