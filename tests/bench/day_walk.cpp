#include "day_walk.hpp"

#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "amptally/resize.hpp"

#include "place/sun_year.hpp"

namespace amptally::bench {

std::vector<Site> spread_sizes(const Site& site, int count) {
  std::vector<Site> sites;
  for (int i = 0; i < count; ++i) {
    // Panels rise once; batteries go round, so that small ones meet large ones.
    const double panel = std::pow(10, (i + 0.5) / count - 0.5);
    const double battery = std::pow(10, std::fmod(0.618034 * i, 1) - 0.5);
    sites.push_back(with_battery_capacity(with_panel_power(site, site.panel.power_w * panel),
                                          site.battery.capacity_ah * battery));
  }
  return sites;
}

Variants::Variants(const Site& site, int count)
    : weather{.mode = WeatherMode::synthetic, .years = 1} {
  const auto sky = std::make_shared<const SiteSky>(site_sky(site.place, panel_plane(site)));
  const auto made = std::make_shared<WeatherCache>(sky, weather, offer_shape(site));
  made->keep();
  years = made;
  loads = std::make_shared<const SharedLoads>(shared_loads(site, sky->geometry));
  for (const Site& variant : spread_sizes(site, count)) {
    designs.push_back(make_design(variant, weather.mode, years, loads));
  }
}

DayWalk::DayWalk(std::span<const Design> designs) : designs_(designs) {
  year_ = designs.front().years->kept(0);
  // Lanes that are left over repeat the first: a kernel takes whole vectors.
  for (std::size_t i = 0; i < kBlockLanes; ++i) {
    const Design& design = designs[i < designs.size() ? i : 0];
    set_lane(block_, i, design);
    lane_designs_.push_back(&design);
    lane_years_.push_back(year_);
  }
  alike_ = alike_lanes(lane_designs_);
  drawable_ = drawable_rows(lane_designs_);
}

void DayWalk::run(const DayKernel& kernel, int days) {
  const SharedLoads& loads = *designs_.front().loads;
  const int count = static_cast<int>(designs_.size());
  const int lanes = (count + kernel.width - 1) / kernel.width * kernel.width;
  for (std::size_t d = 0; d < static_cast<std::size_t>(days); ++d) {
    const std::size_t h = d * kHoursPerDay;
    set_temperature_factors(lane_designs_, alike_, lane_years_, d, temperature_factor_);
    kernel.shared(block_, temperature_factor_,
                  {.unit_offer = &year_->unit_offer[h],
                   .asked_ah = &loads.profile.asked_ah[h],
                   .run_ah = &loads.profile.run_ah[h],
                   .run_share = &loads.profile.run_share[h],
                   .light = &year_->light[h],
                   .draw_of_hour = &loads.profile.draw_of_hour[h],
                   .drawable_share = drawable_.data(),
                   .asked_day_ah = loads.asked_day_ah[d]},
                  short_years_, lanes);
  }
}

Totals DayWalk::totals() const {
  Totals totals;
  for (std::size_t i = 0; i < designs_.size(); ++i) {
    totals.taken_ah += block_.state.taken_ah.lane[i];
    totals.short_ah += block_.year.shortfall_ah.lane[i];
  }
  return totals;
}

std::string same_step_input(const Variants& variants) {
  std::string text;
  const auto out = std::back_inserter(text);
  const WeatherYear& year = *variants.years->kept(0);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    const LoadProfile& loads = variants.loads->profile;
    fmt::format_to(out, "hour {} {} {} {} {} {}\n", year.unit_offer[h], loads.asked_ah[h],
                   static_cast<int>(year.light[h]), loads.draw_of_hour[h], loads.run_ah[h],
                   loads.run_share[h]);
  }
  const BatteryType& type = battery_type(variants.designs.front().battery.kind);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    fmt::format_to(out, "day {}\n", temperature_factor(type, year.day_air_c[d]));
  }
  for (const Design& design : variants.designs) {
    const HourConstantsOf<double>& bank = design.bank.hourly;
    const DayConstantsOf<double>& daily = design.bank.daily;
    fmt::format_to(out, "design {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {}\n",
                   bank.standby_ah, bank.kept_share, bank.drift_ah, bank.charge_limit_ah,
                   frozen_limit_ah(design.bank), bank.taper.gain_a, bank.taper.offset_a,
                   bank.taper.tail, bank.taper.bend, bank.taper.kept_share, bank.taper.unfilled_ah,
                   design.offer_size, design.offer_limit_a, daily.capacity_ah,
                   daily.above_reconnect, design.start.taken_ah, design.start.connected,
                   fmt::join(design.bank.drawable_share, " "));
  }
  return text;
}

}  // namespace amptally::bench
