#include "balance/aim.hpp"

namespace amptally::inline v0_1 {
namespace {

// Common practice, no source: three days a year are put up with where the weather is real.
constexpr double kUsualShortfallDays = 3;

}  // namespace

ResolvedAim resolve_aim(const Site& site, WeatherMode weather) {
  return {.autonomy_days = site.aim.autonomy_days,
          .shortfall_days = site.aim.shortfall_days.value_or(
              weather == WeatherMode::mean ? 0 : kUsualShortfallDays),
          .floor_share = site.aim.floor_share.value_or(site.battery.floor_share)};
}

Judgement judge(const YearBalance& year, const ResolvedAim& aim) {
  return {.autonomy_met = year.autonomy_days >= aim.autonomy_days,
          .shortfall_met = year.shortfall_days <= aim.shortfall_days,
          // Days below the floor are put up with as days of shortfall are.
          .floor_met = year.floor_days <= aim.shortfall_days};
}

}  // namespace amptally::inline v0_1
