#include "report/year_figures.hpp"

#include <limits>

namespace amptally::report {

std::array<YearFigure, 17> year_figures(const YearBalance& year) {
  constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
  const double first_short_day = year.first_short_day ? *year.first_short_day : kNone;
  return {{{"sun_horizontal_kwh_m2", year.sun_horizontal_kwh_m2},
           {"sun_panel_kwh_m2", year.sun_panel_kwh_m2},
           {"charge_ah", year.charge_ah},
           {"use_ah", year.use_ah},
           {"standby_ah", year.standby_ah},
           {"standby_share", year.standby_share()},
           {"autonomy_days", year.autonomy_days},
           {"deepest_discharge", year.deepest_discharge},
           {"mean_daily_discharge", year.mean_daily_discharge},
           {"floor_days", year.floor_days},
           {"shortfall_days", year.shortfall_days},
           {"shortfall_wh", year.shortfall_wh},
           {"served_share", year.served_share},
           {"first_short_day", first_short_day, true},
           {kLifeKey, year.battery_life_years},
           {"longest_dull_days", static_cast<double>(year.longest_dull_days), true},
           {"short_year_share", year.short_year_share}}};
}

}  // namespace amptally::report
