#include "small_system.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "amptally/battery_type.hpp"

#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"

using namespace amptally;

namespace weather_truth {
namespace {

// Two runs a day of half an hour at 2 A, and 20 mA of standby.
constexpr double kUse_ah_day = 2 * 0.5 * 2 + 24 * 0.02;

Site small_system(const StationPlane& plane, double usable_days, double panel_w) {
  constexpr double kCutoff = 0.5;
  Site site{.name = "small system",
            .place = plane.station->place,
            .panel = {.power_w = panel_w,
                      .tilt_deg = plane.tilt_deg,
                      .azimuth_deg = plane.plane().azimuth_deg},
            .regulator = {.kind = RegulatorKind::mppt,
                          .standby = {.value = 0.02},
                          .cutoff = Threshold{kCutoff, Threshold::Unit::state_of_charge},
                          .reconnect = Threshold{0.6, Threshold::Unit::state_of_charge}},
            .battery = {.kind = battery_kind("agm"),
                        .capacity_ah = usable_days * kUse_ah_day / (1 - kCutoff),
                        .floor_share = 1 - kCutoff},
            .aim = {}};
  site.loads.push_back({.name = "pump",
                        .draw = {2, Draw::Unit::amperes},
                        .schedule = Runs{{{390, 30}, {1170, 30}}}});
  return site;
}

// The panel whose poorest month, in the mean of the file's years, brings as much as is used, W.
double panel_for_use_w(const StationPlane& plane, const std::vector<SunYear>& file) {
  constexpr double kTrial_w = 100;
  const Site site = small_system(plane, 3, kTrial_w);
  Monthly charge_ah{};
  for (const SunYear& year : file) {
    const ChargeOffer offer = charge_offer(site, year);
    for (std::size_t h = 0; h < kHoursPerYear; ++h) {
      const int day = static_cast<int>(h) / kHoursPerDay + 1;
      charge_ah[static_cast<std::size_t>(month_of_day(day))] += offer.current_a[h];
    }
  }
  for (int m = 0; m < 12; ++m) {
    charge_ah[static_cast<std::size_t>(m)] /= days_in_month(m) * static_cast<double>(file.size());
  }
  return kTrial_w * kUse_ah_day / *std::min_element(charge_ah.begin(), charge_ah.end());
}

// A year of weather over one panel.
struct Year {
  const SunYear* sun;
  ChargeOffer offer;
};

std::vector<Year> over_panel(const Site& site, const std::vector<SunYear>& suns) {
  std::vector<Year> years;
  years.reserve(suns.size());
  for (const SunYear& sun : suns) years.push_back({&sun, charge_offer(site, sun)});
  return years;
}

// A system with what its years do not change. It is run as `simulate_prepared` does, but in years
// that were made once for all sizes, which halves the time.
struct System {
  Site site;
  LoadProfile loads;
  LoadSwitch load_switch;

  System(Site of, const SiteSky& sky)
      : site(std::move(of)),
        loads(load_profile(site, sky.geometry)),
        load_switch(amptally::load_switch(site, largest_draw_a(loads))) {}

  [[nodiscard]] YearSequence begin() const {
    return {site, loads, load_switch, site.battery.floor_share};
  }
};

Told told(const std::vector<YearBalance>& years) {
  Told told{};
  std::vector<double> short_days;
  for (const YearBalance& year : years) {
    told.served_share += year.served_share;
    told.short_days += year.shortfall_days;
    short_days.push_back(year.shortfall_days);
  }
  told.served_share /= static_cast<double>(years.size());
  told.short_days /= static_cast<double>(years.size());
  told.short_days_of_years = spread_of(short_days);
  return told;
}

std::vector<YearBalance> run_through(YearSequence& system, const std::vector<Year>& years) {
  std::vector<YearBalance> run;
  for (const Year& year : years) {
    run.push_back(year_figures({}, system.run_year(*year.sun, year.offer).year));
  }
  return run;
}

// Again and again, until the end meets the beginning.
Told in_file(const System& system, const std::vector<Year>& years) {
  YearSequence sequence = system.begin();
  for (int pass = 1;; ++pass) {
    const StateOf<double> before = sequence.state();
    const std::vector<YearBalance> run = run_through(sequence, years);
    if (is_last_pass(pass, before, sequence.state(), sequence.capacity_ah())) return told(run);
  }
}

Told in_synthetic(const System& system, const std::vector<Year>& years) {
  YearSequence sequence = system.begin();
  (void)sequence.run_year(*years.front().sun, years.front().offer);
  return told(run_through(sequence, years));
}

void require_same(const Told& ours, const Balance& program) {
  if (ours.served_share == program.year.served_share &&
      ours.short_days == program.year.shortfall_days) {
    return;
  }
  throw std::logic_error("the years of weather_truth are not those of the program");
}

}  // namespace

std::vector<Case> cases_over(const StationPlane& plane, const SunYears& years) {
  const std::vector<double> ratios = plane.station->is_run()
                                         ? std::vector{0.7, 0.85, 1.0, 1.15, 1.3, 1.6}
                                         : std::vector{0.5, 0.7, 0.85, 1.0, 1.15, 1.3, 1.6, 2.0};
  const double panel_w = panel_for_use_w(plane, years.file);
  std::vector<Case> cases;
  for (const double ratio : ratios) {
    const Site panel = small_system(plane, 3, ratio * panel_w);
    const std::vector<Year> file = over_panel(panel, years.file);
    const std::vector<Year> synthetic = over_panel(panel, years.synthetic);
    const std::vector<Year> redrawn = over_panel(panel, years.redrawn);
    const std::vector<Year> own_spread = over_panel(panel, years.own_spread);
    for (const double usable_days : {1.5, 3.0, 5.0}) {
      const System system(small_system(plane, usable_days, ratio * panel_w), years.sky);
      Case c = {.plane = plane,
                .usable_days = usable_days,
                .sun_over_use = ratio,
                .file = in_file(system, file),
                .synthetic = in_synthetic(system, synthetic),
                .redrawn = {},
                .own_spread = {}};
      if (!redrawn.empty()) c.redrawn = in_synthetic(system, redrawn);
      if (!own_spread.empty()) c.own_spread = in_synthetic(system, own_spread);
      cases.push_back(c);
    }
  }
  const Case& first = cases.front();
  const Site site = small_system(plane, first.usable_days, first.sun_over_use * panel_w);
  const Simulation prepared = prepare(site);
  require_same(first.file,
               simulate_prepared(site, prepared,
                                 {.mode = WeatherMode::file, .series = plane.station->series}));
  require_same(first.synthetic,
               simulate_prepared(site, prepared,
                                 {.mode = WeatherMode::synthetic, .years = kSyntheticYears}));
  return cases;
}

}  // namespace weather_truth
