#include "amptally/study.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "parallel.hpp"
#include "walk.hpp"
#include "year_summary.hpp"

namespace amptally {
namespace {

bool same_obstacles(const std::vector<Obstacle>& a, const std::vector<Obstacle>& b) {
  return std::equal(
      a.begin(), a.end(), b.begin(), b.end(), [](const Obstacle& x, const Obstacle& y) {
        return x.azimuth_from_deg == y.azimuth_from_deg && x.azimuth_to_deg == y.azimuth_to_deg &&
               x.elevation_deg == y.elevation_deg && x.months == y.months &&
               x.blocks_share == y.blocks_share;
      });
}

// Whether two sites' panels see the sun's path alike: one's geometry serves the other.
bool same_plane(const Site& a, const Site& b) {
  const Place& p = a.place;
  const Place& q = b.place;
  return p.latitude_deg == q.latitude_deg && p.longitude_deg == q.longitude_deg &&
         p.utc_offset_h == q.utc_offset_h && p.albedo == q.albedo &&
         a.panel.tilt_deg == b.panel.tilt_deg && a.panel.azimuth_deg == b.panel.azimuth_deg &&
         same_obstacles(a.panel.shade, b.panel.shade);
}

// Whether two sites lie under the same sky: one's years serve the other.
bool same_sky(const Site& a, const Site& b) {
  return same_plane(a, b) &&
         a.place.sun_horizontal_kwh_m2_day == b.place.sun_horizontal_kwh_m2_day &&
         a.place.air_temp_c == b.place.air_temp_c;
}

// How many times the offer of `a` that of `b` is, where only sizes differ; 0 where more does.
double offer_ratio(const Site& a, const Site& b) {
  const PanelRating x = panel_rating(a.panel, a.battery.bank_voltage_v());
  const PanelRating y = panel_rating(b.panel, b.battery.bank_voltage_v());
  constexpr double kSame = 1e-12;
  const auto near = [](double p, double q) { return std::abs(p - q) <= kSame * std::abs(q); };
  const bool same_label = near(x.vmp_v, y.vmp_v) && near(x.voc_v, y.voc_v) &&
                          near(x.imp_a * y.isc_a, y.imp_a * x.isc_a) &&
                          near(x.imp_a * y.power_w, y.imp_a * x.power_w) &&
                          x.temp_coeff_power_pct_k == y.temp_coeff_power_pct_k &&
                          x.temp_coeff_voc_pct_k == y.temp_coeff_voc_pct_k &&
                          a.panel.noct_c == b.panel.noct_c && a.panel.series == b.panel.series;
  const bool same_way = a.regulator.kind == b.regulator.kind &&
                        charging_voltage_v(a.battery) == charging_voltage_v(b.battery);
  if (!same_label || !same_way || y.power_w <= 0 || b.panel.losses_share >= 1) return 0;
  const double sizes = x.power_w * a.panel.count / (y.power_w * b.panel.count);
  const double kept = (1 - a.panel.losses_share) / (1 - b.panel.losses_share);
  const double converter = a.regulator.kind == RegulatorKind::mppt
                               ? a.regulator.efficiency_share / b.regulator.efficiency_share
                               : 1;
  return sizes * kept * converter;
}

Site unlimited(Site site) {
  site.regulator.max_current_a.reset();
  return site;
}

}  // namespace

struct Study::Made {
  Made(const Site& site, const WeatherChoice& choice, SiteSky sky);

  Site base;
  WeatherChoice weather;
  Simulation parts;             // the sky alone: all that synthetic years need
  std::vector<MadeYear> years;  // of synthetic weather; offers without the regulator's limit

  [[nodiscard]] ChargeOffer offer(const Site& variant, double ratio, std::size_t year) const;
  [[nodiscard]] Outcome run(const Site& variant, bool stop_when_missed) const;
  [[nodiscard]] Outcome run_under_own_sky(const Site& variant, bool stop_when_missed) const;
};

Study::Made::Made(const Site& site, const WeatherChoice& choice, SiteSky sky)
    : base(site), weather(choice) {
  if (weather.mode != WeatherMode::synthetic) return;
  parts.sky = std::move(sky);
  years = make_years(unlimited(base), parts, weather, 0, weather.years);
}

Outcome Study::Made::run_under_own_sky(const Site& variant, bool stop_when_missed) const {
  SiteSky sky;
  if (same_plane(variant, base)) {
    sky = parts.sky;
    sky.mean_days = mean_days(variant.place);
    sky.clearness = clearness_months(variant.place);
  } else {
    sky = site_sky(variant.place, panel_plane(variant));
  }
  return Made(variant, weather, std::move(sky)).run(variant, stop_when_missed);
}

ChargeOffer Study::Made::offer(const Site& variant, double ratio, std::size_t year) const {
  if (ratio <= 0) return charge_offer(variant, years[year].sun);
  ChargeOffer offer = years[year].offer;
  const double limit_a =
      variant.regulator.max_current_a.value_or(std::numeric_limits<double>::infinity());
  for (double& current : offer.current_a) current = std::min(current * ratio, limit_a);
  return offer;
}

Outcome Study::Made::run(const Site& variant, bool stop_when_missed) const {
  Simulation changed;
  changed.loads = load_profile(variant, parts.sky.geometry);
  changed.load_switch = load_switch(variant, changed.loads.running_current_a);
  const ResolvedAim aim = resolve_aim(variant, weather.mode);
  Walk walk(variant, changed.loads, changed.load_switch);
  if (stop_when_missed &&
      lowest_autonomy_days(variant, walk.use_ah_day(), aim.floor_share) < aim.autonomy_days) {
    return {};
  }
  YearSummary summary({.battery = &variant.battery,
                       .air_temp_c = variant.place.air_temp_c,
                       .use_ah_day = walk.use_ah_day(),
                       .standby_a = standby_current_a(variant),
                       .floor_share = aim.floor_share,
                       .with_wear = false});
  const double ratio = offer_ratio(variant, base);
  const double allowed_days = aim.shortfall_days * static_cast<double>(years.size());
  Outcome outcome;
  for (std::size_t y = 0; y < years.size(); ++y) {
    const ChargeOffer made = offer(variant, ratio, y);
    if (y == 0) (void)walk.year(years[0].sun, made);  // runs in
    summary.add(walk.year(years[y].sun, made));
    if (stop_when_missed &&
        (summary.shortfall_days() > allowed_days || summary.floor_days() > allowed_days)) {
      return outcome;
    }
  }
  Balance balance;
  summary.finish(balance);
  balance.aim = aim;
  judge(balance);
  outcome.meets_aim = balance.holds();
  outcome.year = balance.year;
  return outcome;
}

Study::Study(const Site& base, const WeatherChoice& weather)
    : made_(std::make_unique<const Made>(base, weather,
                                         weather.mode == WeatherMode::synthetic
                                             ? site_sky(base.place, panel_plane(base))
                                             : SiteSky{})) {}

Study::~Study() = default;
Study::Study(Study&&) noexcept = default;
Study& Study::operator=(Study&&) noexcept = default;

const Site& Study::base() const { return made_->base; }
const WeatherChoice& Study::weather() const { return made_->weather; }

Outcome Study::run(const Site& variant) const {
  // One year of mean weather, or a file's, is as quickly made as kept.
  if (made_->weather.mode != WeatherMode::synthetic) {
    const Balance balance = simulate(variant, made_->weather).balance;
    return {.meets_aim = balance.holds(), .year = balance.year};
  }
  if (!same_sky(variant, made_->base)) return made_->run_under_own_sky(variant, false);
  return made_->run(variant, false);
}

std::vector<Outcome> Study::run(std::span<const Site> variants) const {
  std::vector<Outcome> outcomes(variants.size());
  in_parallel(static_cast<int>(variants.size()), made_->weather.threads, [&](int i) {
    const auto n = static_cast<std::size_t>(i);
    outcomes[n] = run(variants[n]);
  });
  return outcomes;
}

bool Study::meets(const Site& variant) const {
  if (made_->weather.mode != WeatherMode::synthetic) return run(variant).meets_aim;
  if (!same_sky(variant, made_->base)) {
    return made_->run_under_own_sky(variant, true).meets_aim;
  }
  return made_->run(variant, true).meets_aim;
}

Site with_panel_power(Site site, double power_w) {
  site.panel = with_power(std::move(site.panel), power_w);
  return site;
}

Site with_battery_capacity(Site site, double capacity_ah) {
  if (site.battery.max_charge_current_a) {
    *site.battery.max_charge_current_a *= capacity_ah / site.battery.capacity_ah;
  }
  site.battery.capacity_ah = capacity_ah;
  return site;
}

}  // namespace amptally
