#include "fuzz/promises.hpp"

#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "amptally/balance.hpp"
#include "amptally/error.hpp"
#include "amptally/findings.hpp"
#include "amptally/water.hpp"
#include "amptally/wiring.hpp"

namespace amptally::fuzz {
namespace {

void require_within(double value, double low, double high, const std::string& what) {
  require(value >= low && value <= high,  // not a number fails too
          fmt::format("{}: {} is in {}..{}", what, value, low, high));
}

void require_within(const std::optional<double>& value, double low, double high,
                    const std::string& what) {
  if (value) require_within(*value, low, high, what);
}

constexpr double kHuge = 1e12;  // more than any field of the site file takes

void require_place(const Place& place) {
  require_within(place.latitude_deg, -90, 90, "latitude");
  require_within(place.longitude_deg, -180, 180, "longitude");
  require_within(place.albedo, 0, 1, "albedo");
  require_within(place.elevation_m, -kHuge, kHuge, "elevation");
  require_within(place.utc_offset_h, -24, 24, "UTC offset");
  for (std::size_t month = 0; month < 12; ++month) {
    require_within(place.sun_horizontal_kwh_m2_day[month], 0, 24, "insolation");
    require_within(place.air_temp_c[month], -100, 100, "air temperature");
    require_within(place.rain_mm[month], 0, kHuge, "rain");
  }
}

void require_panel(const Panel& panel) {
  require_within(panel.power_w, 0, kHuge, "panel power");
  require(panel.count >= 1 && panel.series >= 1 && panel.count % panel.series == 0,
          "panels make whole strings");
  require_within(panel.tilt_deg, 0, 90, "tilt");
  require_within(panel.azimuth_deg, 0, 360, "azimuth");
  require_within(panel.losses_share, 0, 1, "panel losses");
  require_within(panel.vmp_v, 0, kHuge, "vmp");
  require_within(panel.voc_v, 0, kHuge, "voc");
  for (const Obstacle& obstacle : panel.shade) {
    require_within(obstacle.azimuth_from_deg, 0, 360, "shade from");
    require_within(obstacle.azimuth_to_deg, 0, 360, "shade to");
    require_within(obstacle.elevation_deg, 0, 90, "shade elevation");
    require_within(obstacle.blocks_share, 0, 1, "shade blocks");
  }
}

void require_storage(const Site& site) {
  const Battery& battery = site.battery;
  require(battery.capacity_ah > 0 && battery.voltage_v > 0, "a battery holds something");
  require_within(battery.capacity_ah, 0, kHuge, "capacity");
  require(battery.parallel >= 1 && battery.series >= 1, "there is a battery");
  require_within(battery.floor_share, 0, 1, "floor");
  require_within(battery.health_share, 0, 1, "health");
  require_within(battery.start_share, 0, 1, "start");
  require_within(battery.peukert, 1, 2, "peukert");
  require_within(site.regulator.efficiency_share, 0, 1, "regulator efficiency");
  require_within(site.regulator.standby.value, 0, kHuge, "standby");
}

void require_load(const Load& load) {
  require(!load.name.empty(), "a load has a name");
  require_within(load.draw.value, 0, kHuge, "draw");
  require(load.count >= 0 && load.every_days >= 1, "a load is there, now and then");
  if (const auto* const daily = std::get_if<PerDay>(&load.schedule)) {
    require_within(daily->minutes, 0, 1440, "minutes a day");
  } else if (const auto* const runs = std::get_if<Runs>(&load.schedule)) {
    for (const Run& run : runs->runs) {
      require_within(run.at_min, 0, 1440, "start of a run");
      require_within(run.for_minutes, 0, 1440, "length of a run");
    }
  }
}

void require_balance(const Balance& balance) {
  for (const MonthBalance& month : balance.months) {
    require_finite(month.sun_panel_kwh_m2_day, "sun of a month");
    require_finite(month.charge_ah_day, "charge of a month");
    require_finite(month.use_ah_day, "use of a month");
    require_finite(month.shortfall_wh, "shortfall of a month");
    require(!(month.autonomy_days < 0) && !std::isnan(month.autonomy_days), "autonomy is no debt");
  }
  require_within(balance.year.deepest_discharge, -1e-9, 1 + 1e-9, "deepest discharge");
  require_within(balance.year.served_share, -1e-9, 1 + 1e-9, "share served");
  require_within(balance.year.shortfall_days, 0, kDaysPerYear, "shortfall days");
  require_finite(balance.year.battery_life_years, "battery life");
  for (const Use& use : balance.uses) {
    require_finite(use.ah_day, "use of " + use.name);
    require_within(use.share, 0, 1 + 1e-9, "share of " + use.name);
  }
  // What is served is the difference of what was asked and what was not to be had.
  const double through_ah = balance.ledger.charge_ah + balance.year.use_ah + 1;
  require_within(balance.ledger.error_ah() / through_ah, -1e-6, 1e-6, "what the ledger misses");
}

void require_cable(const CableCheck& check) {
  require_finite(check.current_a, "current in " + check.cable.name);
  require_finite(check.drop_v, "drop along " + check.cable.name);
}

std::string texts_of(const io::ReadResult& result) {
  std::string texts;
  for (const io::Problem& problem : result.problems) {
    texts += problem.field + ": " + problem.message + "\n";
  }
  return texts;
}

}  // namespace

void require(bool kept, const std::string& promise) {
  if (!kept) throw std::logic_error("not kept: " + promise);
}

void require_finite(double value, const std::string& what) {
  require(std::isfinite(value), what + " is finite");
}

void require_message(const std::string& message) {
  require(!message.empty(), "a message says something");
  require(message.find_first_of("\n\r") == message.npos, "one line: " + message);
}

void require_answer(const io::ReadResult& result) {
  require(result.site.has_value() == result.problems.empty(), "either a site or problems");
  for (const io::Problem& problem : result.problems) require_message(to_text(problem));
}

void require_same(const io::ReadResult& one, const io::ReadResult& other) {
  require(texts_of(one) == texts_of(other),
          "the same problems: " + texts_of(one) + "and " + texts_of(other));
  if (!one.site || !other.site) return;
  try {
    require(simulate(*one.site).balance.year == simulate(*other.site).balance.year, "one year");
  } catch (const Error& error) {
    require_message(error.what());
  }
}

void require_in_range(const Site& site) {
  require_place(site.place);
  require_panel(site.panel);
  require_storage(site);
  for (const Load& load : site.loads) require_load(load);
  for (const RoughInput& rough : site.rough) {
    require(std::isfinite(rough.low) && std::isfinite(rough.high) && rough.low < rough.high,
            rough.field + " is rough between two ends");
  }
}

void require_year(const Site& site) {
  try {
    const Simulation simulation = simulate(site);
    require_balance(simulation.balance);
    for (const Finding& finding : site_findings(site, simulation)) require_message(finding.text);
    for (const CableCheck& check : check_wiring(site, simulation)) require_cable(check);
    if (site.water) (void)water_findings(site, study_water(site));
  } catch (const Error& error) {
    require_message(error.what());
  }
}

}  // namespace amptally::fuzz
