#include "amptally/worksheet.hpp"

#include <algorithm>
#include <limits>

namespace amptally::inline v0_1 {

double worksheet_panel_current_a(double use_ah_day, double efficiency_share, double sun_hours) {
  if (use_ah_day <= 0) return 0;
  return sun_hours > 0 ? use_ah_day / (efficiency_share * sun_hours)
                       : std::numeric_limits<double>::infinity();
}

double worksheet_battery_ah(double use_ah_day, double days, double depth_share,
                            double temperature_factor) {
  return days * use_ah_day / (depth_share * temperature_factor);
}

Worksheet worksheet(const WorksheetInput& input) {
  Worksheet sheet;
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    const double current_a =
        worksheet_panel_current_a(input.use_ah_day[i], input.efficiency_share, input.sun_hours[i]);
    if (m == 0 || current_a > sheet.panel_current_a) {
      sheet.design_month = m;
      sheet.panel_current_a = current_a;
    }
  }
  sheet.panel_power_w = sheet.panel_current_a * input.panel_v;
  sheet.battery_capacity_ah =
      worksheet_battery_ah(*std::max_element(input.use_ah_day.begin(), input.use_ah_day.end()),
                           input.days, input.depth_share, input.temperature_factor);
  return sheet;
}

}  // namespace amptally::inline v0_1
