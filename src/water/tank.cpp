#include <algorithm>

#include "amptally/sun.hpp"
#include "amptally/water.hpp"

namespace amptally::inline v0_1 {
namespace {

double refill_l(const Tank& tank, std::size_t month) {
  return tank.refill_l_month.empty() ? 0 : tank.refill_l_month[month];
}

double catch_l(const Place& place, const Tank& tank, std::size_t month) {
  return roof_catch_l(place.rain_mm[month], tank.roof_m2.value_or(0),
                      tank.runoff_share.value_or(1));
}

int days_in(std::size_t month) { return days_in_month(static_cast<int>(month)); }

double usable_l(const Tank& tank) {
  const bool known = tank.level_m && tank.outlet_height_m;
  return tank.volume_l * (1 - (known ? *tank.outlet_height_m / *tank.level_m : 0));
}

// The month in which a full tank is empty first, and how long that takes.
void find_days_to_empty(const Place& place, const Tank& tank, const Monthly& use_l_day,
                        TankStudy& study) {
  for (std::size_t m = 0; m < use_l_day.size(); ++m) {
    const double beyond_rain_l_day = use_l_day[m] - catch_l(place, tank, m) / days_in(m);
    const double days = study.usable_l / beyond_rain_l_day;
    if (beyond_rain_l_day > 0 && !(study.days_to_empty && *study.days_to_empty <= days)) {
      study.days_to_empty = days;
      study.days_to_empty_month = static_cast<int>(m);
    }
  }
}

// What a month did.
struct TankMonth {
  int dry_days = 0;
  double lowest_l;
  double overflow_l = 0;
  double missed_l = 0;
};

// Runs a month day by day.
// @param content_l  in: on its first morning; out: after its last day
TankMonth run_month(double in_l_day, double use_l_day, int days, double usable_l,
                    double& content_l) {
  TankMonth month{.lowest_l = usable_l};
  for (int day = 0; day < days; ++day) {
    const double left_l = content_l + in_l_day - use_l_day;
    // A millilitre short is rounding, not drought.
    month.dry_days += left_l < -1e-3;
    month.missed_l += std::max(0.0, -left_l);
    month.overflow_l += std::max(0.0, left_l - usable_l);
    content_l = std::clamp(left_l, 0.0, usable_l);
    month.lowest_l = std::min(month.lowest_l, content_l);
  }
  return month;
}

}  // namespace

double roof_catch_l(double rain_mm, double roof_m2, double runoff_share) {
  return rain_mm * roof_m2 * runoff_share;
}

TankStudy study_tank(const Place& place, const Tank& tank, const Monthly& use_l_day) {
  TankStudy study;
  study.usable_l = usable_l(tank);
  find_days_to_empty(place, tank, use_l_day, study);
  double content_l = study.usable_l;
  for (const bool counts : {false, true}) {
    for (std::size_t m = 0; m < use_l_day.size(); ++m) {
      const double rain_l = catch_l(place, tank, m);
      const double in_l_day = (rain_l + refill_l(tank, m)) / days_in(m);
      const TankMonth month =
          run_month(in_l_day, use_l_day[m], days_in(m), study.usable_l, content_l);
      if (!counts) continue;
      study.dry_days += month.dry_days;
      study.dry_days_month[m] = month.dry_days;
      study.lowest_l[m] = month.lowest_l;
      study.overflow_l += month.overflow_l;
      study.catch_l += rain_l;
      study.refill_l += refill_l(tank, m);
      study.use_l += use_l_day[m] * days_in(m) - month.missed_l;
    }
  }
  return study;
}

}  // namespace amptally::inline v0_1
