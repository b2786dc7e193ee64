#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "amptally/site.hpp"

/// The words results are told in.
namespace amptally::report {

/// "January" for 0.
[[nodiscard]] std::string_view month_name(int month);
/// "19 November" for 323 of a 365-day year; "19 Nov" when `is_short`.
[[nodiscard]] std::string date_text(int day, bool is_short = false);
/// "1 day", "4.1 days".
[[nodiscard]] std::string days_text(double days, int decimals);
/// "south-east" for 135.
[[nodiscard]] std::string_view compass_word(double azimuth_deg);
/// "43.36° N, 5.85° W"
[[nodiscard]] std::string position_text(double latitude_deg, double longitude_deg);

/// The site's place, the origin of its sun, and how far that can be trusted.
[[nodiscard]] std::string place_text(const Place& place);
/// Under "Site" its name, if it has one, and under "Place" what `place_text` says.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> site_facts(const Site& site);
/// "2 × 60 W panel at 55° facing 180° (south)"
[[nodiscard]] std::string panel_text(const Panel& panel);
/// "18 Ah 12 V AGM (sealed lead-acid) battery"
[[nodiscard]] std::string battery_text(const Battery& battery);
/// "PWM regulator", "no regulator"
[[nodiscard]] std::string_view regulator_text(RegulatorKind kind);
/// Panel, battery and regulator in a line.
[[nodiscard]] std::string parts_text(const Site& site);

/// "draw of pump (300 to 400 mA)"
[[nodiscard]] std::string rough_text(const Site& site, const RoughInput& input);
/// One sentence per input given as a range.
[[nodiscard]] std::vector<std::string> rough_texts(const Site& site);

}  // namespace amptally::report
