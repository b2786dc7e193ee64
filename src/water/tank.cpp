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

double lost_at_night_l(const NightLoss& night_loss_l, std::size_t month, double content_l) {
  return night_loss_l ? night_loss_l(month, content_l) : 0;
}

// Days that a full tank lasts in a month by its rain alone.
std::optional<double> filling_days(double usable_l, double beyond_rain_l_day, std::size_t month,
                                   const NightLoss& night_loss_l) {
  if (!(beyond_rain_l_day > 0)) return std::nullopt;
  double content_l = usable_l;
  int days = 0;
  // Chosen: what has siphoned for a year hardly siphons any more.
  while (night_loss_l && days < kDaysPerYear && content_l >= beyond_rain_l_day) {
    content_l -= beyond_rain_l_day;
    content_l -= night_loss_l(month, content_l);
    ++days;
  }
  return days + content_l / beyond_rain_l_day;
}

// How long a full tank lasts, and the month in which that is shortest.
void find_filling_days(const Place& place, const Tank& tank, const Monthly& use_l_day,
                       const NightLoss& night_loss_l, TankStudy& study) {
  for (std::size_t m = 0; m < use_l_day.size(); ++m) {
    const double beyond_rain_l_day = use_l_day[m] - catch_l(place, tank, m) / days_in(m);
    const std::optional<double> days =
        filling_days(study.usable_l, beyond_rain_l_day, m, night_loss_l);
    study.filling_days[m] = days;
    if (days && !(study.days_to_empty && *study.days_to_empty <= *days)) {
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
  double siphon_l = 0;
};

// Runs a month day by day.
// @param content_l  in: on its first morning; out: after its last night
TankMonth run_month(double in_l_day, double use_l_day, std::size_t m, double usable_l,
                    const NightLoss& night_loss_l, double& content_l) {
  TankMonth month{.lowest_l = usable_l};
  for (int day = 0; day < days_in(m); ++day) {
    const double left_l = content_l + in_l_day - use_l_day;
    // A millilitre short is rounding, not drought.
    month.dry_days += left_l < -1e-3;
    month.missed_l += std::max(0.0, -left_l);
    month.overflow_l += std::max(0.0, left_l - usable_l);
    content_l = std::clamp(left_l, 0.0, usable_l);
    const double lost_l = lost_at_night_l(night_loss_l, m, content_l);
    month.siphon_l += lost_l;
    content_l -= lost_l;
    month.lowest_l = std::min(month.lowest_l, content_l);
  }
  return month;
}

}  // namespace

double roof_catch_l(double rain_mm, double roof_m2, double runoff_share) {
  return rain_mm * roof_m2 * runoff_share;
}

bool TankStudy::holds() const {
  if (!is_filled_by_hand) return dry_days == 0;
  // A millilitre short is rounding here, too.
  return !days_to_empty || *days_to_empty >= 1 - 1e-6;
}

TankStudy study_tank(const Place& place, const Tank& tank, const Monthly& use_l_day,
                     const NightLoss& night_loss_l) {
  TankStudy study;
  study.usable_l = usable_l(tank);
  find_filling_days(place, tank, use_l_day, night_loss_l, study);
  for (std::size_t m = 0; m < use_l_day.size(); ++m) {
    study.catch_l += catch_l(place, tank, m);
    study.refill_l += refill_l(tank, m);
  }
  study.is_filled_by_hand = study.catch_l + study.refill_l == 0;
  if (study.is_filled_by_hand) {
    for (std::size_t m = 0; m < use_l_day.size(); ++m) study.use_l += use_l_day[m] * days_in(m);
    return study;
  }
  double content_l = study.usable_l;
  for (const bool counts : {false, true}) {
    for (std::size_t m = 0; m < use_l_day.size(); ++m) {
      const double in_l_day = (catch_l(place, tank, m) + refill_l(tank, m)) / days_in(m);
      const TankMonth month =
          run_month(in_l_day, use_l_day[m], m, study.usable_l, night_loss_l, content_l);
      if (!counts) continue;
      study.dry_days += month.dry_days;
      study.dry_days_month[m] = month.dry_days;
      study.lowest_l[m] = month.lowest_l;
      study.overflow_l += month.overflow_l;
      study.siphon_l += month.siphon_l;
      study.use_l += use_l_day[m] * days_in(m) - month.missed_l;
    }
  }
  return study;
}

}  // namespace amptally::inline v0_1
