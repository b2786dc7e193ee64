#include "report/labels.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "amptally/battery.hpp"
#include "amptally/sun.hpp"

#include "report/table.hpp"
#include "site/field_label.hpp"

namespace amptally::report {

std::string_view month_name(int month) { return kMonthNames.at(static_cast<std::size_t>(month)); }

std::string date_text(int day, bool is_short) {
  const int month = month_of_day(day);
  const std::string_view name = month_name(month);
  return fmt::format("{} {}", day - first_day_of_month(month) + 1,
                     is_short ? name.substr(0, 3) : name);
}

std::string days_text(double days, int decimals) {
  const std::string figure = rounded(days, decimals);
  return figure + (figure == "1" ? " day" : " days");
}

std::string_view compass_word(double azimuth_deg) {
  static constexpr std::array<std::string_view, 8> kWords = {
      "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"};
  return kWords[static_cast<std::size_t>(std::lround(azimuth_deg / 45)) % kWords.size()];
}

std::string position_text(double latitude_deg, double longitude_deg) {
  return fmt::format("{}° {}, {}° {}", rounded(std::abs(latitude_deg), 2),
                     latitude_deg < 0 ? "S" : "N", rounded(std::abs(longitude_deg), 2),
                     longitude_deg < 0 ? "W" : "E");
}

std::vector<std::pair<std::string, std::string>> site_facts(const Site& site) {
  std::vector<std::pair<std::string, std::string>> facts;
  if (!site.name.empty()) facts.emplace_back("Site", site.name);
  facts.emplace_back("Place", place_text(site.place));
  return facts;
}

std::string place_text(const Place& place) {
  const std::string position = position_text(place.latitude_deg, place.longitude_deg);
  std::string text = place.name.empty() ? position : place.name + " (" + position + ")";
  text += "; sun from " + place.climate.sun;
  if (place.climate.own_sun) return text;
  if (place.climate.uncertainty_share <= 0) {  // measured, or made from measurements: a file
    const double away_km = place.climate.distance_km;
    return away_km < 1 ? text : text + fmt::format(" ({} km from the site)", rounded(away_km, 0));
  }
  const std::string away =
      place.climate.distance_km < 1
          ? ""
          : fmt::format("{}{} km away; ", place.climate.between ? "the nearest " : "",
                        rounded(place.climate.distance_km, 0));
  return text + fmt::format(" ({}a month's figure is good to about {} %)", away,
                            rounded(100 * place.climate.uncertainty_share, 0));
}

std::string panel_text(const Panel& panel) {
  const std::string count = panel.count > 1 ? fmt::format("{} × ", panel.count) : "";
  return fmt::format("{}{:g} W panel at {:g}° facing {:g}° ({})", count, panel.power_w,
                     panel.tilt_deg, panel.azimuth_deg, compass_word(panel.azimuth_deg));
}

std::string battery_text(const Battery& battery) {
  std::string bank;
  if (battery.parallel > 1) bank += fmt::format("{} in parallel × ", battery.parallel);
  if (battery.series > 1) bank += fmt::format("{} in series × ", battery.series);
  return fmt::format("{}{:g} Ah {:g} V {} battery", bank, battery.capacity_ah, battery.voltage_v,
                     battery_type(battery.kind).label);
}

std::string_view regulator_text(RegulatorKind kind) {
  switch (kind) {
    case RegulatorKind::pwm:
      return "PWM regulator";
    case RegulatorKind::mppt:
      return "MPPT regulator";
    case RegulatorKind::none:
      break;
  }
  return "no regulator";
}

std::string parts_text(const Site& site) {
  return fmt::format("{}, {}, {}", panel_text(site.panel), battery_text(site.battery),
                     regulator_text(site.regulator.kind));
}

std::string rough_text(const Site& site, const RoughInput& input) {
  const bool small_current = input.unit == "A" && input.high < 1;
  const double scale = input.unit == "%" ? 100 : small_current ? 1000 : 1;  // a share is 0..1
  const std::string unit = small_current           ? " mA"
                           : input.unit == "deg"   ? "°"
                           : input.unit == "deg C" ? " °C"
                           : input.unit == "mm2"   ? " mm²"
                           : input.unit == "m2"    ? " m²"
                           : input.unit.empty()    ? ""
                                                   : " " + input.unit;
  return fmt::format("{} ({:.4g} to {:.4g}{})", field_label(site, input.field), scale * input.low,
                     scale * input.high, unit);
}

std::vector<std::string> rough_texts(const Site& site) {
  std::vector<std::string> texts;
  for (const RoughInput& input : site.rough) {
    texts.push_back(rough_text(site, input) + ": the middle is used.");
  }
  return texts;
}

}  // namespace amptally::report
