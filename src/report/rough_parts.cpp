#include "report/rough_parts.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/labels.hpp"
#include "report/rough.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

/// Of what the figures above are the middle.
std::string known_text(const Site& site, double climate_error_share) {
  const std::string sun = sun_error_text(climate_error_share);
  if (site.rough.empty()) return "The figures above use the middle of " + sun + ".";
  return fmt::format("The figures above use the middle of each range: {}{}.", ranges_text(site),
                     climate_error_share > 0 ? "; and of " + sun : "");
}

/// @param holds   "water is enough"
/// @param failed  what goes wrong in cases without figures
std::string cases_text(const Site& site, double climate_error_share, const char* holds,
                       double holds_share, int cases, int failed_cases, const char* failed) {
  std::string text = fmt::format(
      "The figures above use the middle of each range: {}. Over all ranges", ranges_text(site));
  if (climate_error_share > 0) text += ", and " + sun_error_text(climate_error_share) + ",";
  text += fmt::format(" {} in {} of 100 cases ({} tried).", holds, rounded(100 * holds_share, 0),
                      cases);
  if (failed_cases > 0) {
    text += fmt::format(" In {} of 100 {}; they are not in the figures below.",
                        rounded(100.0 * failed_cases / cases, 0), failed);
  }
  return text;
}

/// Figures that differ from case to case, one after the other.
class Figures {
 public:
  void add(const Spread& spread, int decimals, const char* unit, double scale = 1) {
    const std::string span = span_text(spread, decimals, scale);
    // What reads the same at both ends is above already.
    if (span == rounded(scale * spread.p10, decimals)) return;
    text_ += fmt::format("{}{} {}", text_.empty() ? "" : ", ", span, unit);
  }
  void add(const std::optional<Spread>& spread, const char* unit) {
    if (spread) add(*spread, decimals_for(spread->p90), unit);
  }

  /// Adds them to `lines`, if there are any.
  void end(const std::string& name, std::vector<std::string>& lines) const {
    if (!text_.empty()) lines.push_back(name + ": " + text_ + ".");
  }

 private:
  std::string text_;
};

std::vector<std::string> water_lines(const RoughWater& study) {
  std::vector<std::string> lines;
  for (const RoughLine& line : study.lines) {
    Figures figures;
    figures.add(line.flow_l_h, "L/h");
    figures.add(line.longest_minutes_day, "min a day in the month that takes longest");
    figures.add(line.siphon_night_l, "L siphoned in a night");
    figures.end(line.name, lines);
  }
  if (study.tank) {
    Figures figures;
    const auto& days = study.tank->days_to_empty;
    if (days) figures.add(*days, days->p90 < 10 ? 1 : 0, "days from a filling at the least");
    if (study.tank->dry_days) figures.add(*study.tank->dry_days, 0, "dry days a year");
    figures.end("Tank", lines);
  }
  return lines;
}

std::vector<std::string> wiring_lines(const RoughWiring& study) {
  std::vector<std::string> lines;
  for (const RoughCable& cable : study.cables) {
    Figures figures;
    figures.add(cable.current_a, 2, "A");
    figures.add(cable.drop_share, 1, "% dropped", 100);
    figures.add(cable.loss_wh_day, 2, "Wh a day lost");
    figures.end(cable.name, lines);
  }
  return lines;
}

std::vector<std::string> sun_lines(const RoughSun& study) {
  const auto& months = study.sun_panel_kwh_m2_day;
  const auto poorest = std::ranges::min_element(months, {}, &Spread::p50);
  Figures month;
  month.add(*poorest, 2, "kWh/m² a day on the panel");
  Figures year;
  year.add(study.panel_year_kwh_m2, 0, "kWh/m² on the panel");
  std::vector<std::string> lines;
  month.end("Poorest month, " + std::string(month_name(static_cast<int>(poorest - months.begin()))),
            lines);
  year.end("Year", lines);
  return lines;
}

void append_study(Document& document, std::string cases, const std::vector<std::string>& lines) {
  document.emplace_back(Heading{"Rough numbers"});
  document.emplace_back(Paragraph{.text = std::move(cases)});
  if (lines.empty()) {
    document.emplace_back(Paragraph{.text = "None of these ranges moves a figure above."});
    return;
  }
  document.emplace_back(Paragraph{.text = "In eight cases of ten:"});
  document.emplace_back(Bullets{lines});
}

}  // namespace

void append_rough_water(Document& document, const Site& site, const RoughWater* study) {
  if (study == nullptr) return;
  append_study(document,
               cases_text(site, study->climate_error_share, "water is enough", study->holds_share,
                          study->cases, study->failed_cases, "a line brings no water at all"),
               water_lines(*study));
}

void append_rough_sun(Document& document, const Site& site, const RoughSun* study) {
  if (study == nullptr) return;
  append_study(
      document,
      fmt::format("{} {} cases tried.", known_text(site, study->climate_error_share), study->cases),
      sun_lines(*study));
}

void append_rough_wiring(Document& document, const Site& site, const RoughWiring* study) {
  if (study == nullptr) return;
  append_study(document,
               cases_text(site, 0, "all cables are thick enough", study->holds_share, study->cases,
                          study->failed_cases, "a pump cannot bring its water within the day"),
               wiring_lines(*study));
}

}  // namespace amptally::report
