#include "report/sun.hpp"

#include <utility>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough_parts.hpp"

namespace amptally::report {
namespace {

Table month_table(const Sun& sun) {
  Table table{.columns = {{"Month", "", "month", Align::left},
                          {"Sun on\nground", "kWh/m²/day", "sun_horizontal_kwh_m2_day"},
                          {"Sun on\npanel", "kWh/m²/day", "sun_panel_kwh_m2_day"},
                          {"Clearness", "%", "clearness"},
                          {"Day\nlength", "h", "day_length_h"},
                          {"Lost to\nshade", "%", "shade_share"},
                          {"Days\ndiffer by", "%", "day_spread_share"}},
              .rows = {}};
  for (int i = 0; i < 12; ++i) {
    const SunMonth& month = sun.months[static_cast<std::size_t>(i)];
    table.rows.push_back({{std::string(month_name(i)), fmt::format("{}", i + 1)},
                          number(month.sun_horizontal_kwh_m2_day, 2),
                          number(month.sun_panel_kwh_m2_day, 2),
                          percent(month.clearness),
                          number(month.day_length_h, 1),
                          percent(month.shade_share),
                          percent(month.day_spread_share)});
  }
  return table;
}

Table tilt_table(const TiltStudy& study) {
  Table table{.columns = {{"Tilt", "°", "tilt_deg"},
                          {"Sun over\nthe year", "kWh/m²", "year_kwh_m2"},
                          {"Sun in the\npoorest month", "kWh/m²/day", "worst_month_kwh_m2_day"},
                          {"Poorest\nmonth", "", "worst_month", Align::left}},
              .rows = {}};
  for (const TiltFigure& figure : study.tilts) {
    table.rows.push_back(
        {number(figure.tilt_deg, 0),
         number(figure.year_kwh_m2, 0),
         number(figure.worst_month_kwh_m2_day, 2),
         {std::string(month_name(figure.worst_month)), fmt::format("{}", figure.worst_month + 1)}});
  }
  return table;
}

std::string best_text(const TiltStudy& study) {
  return fmt::format(
      "Most sun over the year at {}° ({} kWh/m²). Most in the poorest month at {}° ({} kWh/m² a "
      "day in {}).",
      rounded(study.best_year.tilt_deg, 0), rounded(study.best_year.year_kwh_m2, 0),
      rounded(study.best_worst_month.tilt_deg, 0),
      rounded(study.best_worst_month.worst_month_kwh_m2_day, 2),
      month_name(study.best_worst_month.worst_month));
}

std::string spread_text(const Sun& sun) {
  const std::string figure =
      fmt::format("{} % over the year", rounded(100 * day_spread_share(sun.months), 0));
  return std::string(sun.from_file ? "Means of the file's years. "
                                   : "Days are the month's mean. ") +
         "Days differ by: standard deviation of single days over the month's mean, " + figure +
         (sun.from_file ? "; as place.day_spread it makes synthetic years as wild as the file."
                        : ".");
}

Document sun_document(const Sun& sun, bool quiet) {
  Document document;
  if (!quiet) {
    Facts facts{site_facts(sun.site)};
    facts.lines.emplace_back("Panel", panel_text(sun.site.panel));
    document.emplace_back(std::move(facts));
  }
  document.emplace_back(month_table(sun));
  document.emplace_back(Paragraph{
      .text = "On ground: on level, open ground. Clearness: of the sun above the air, the "
              "share that comes through. " +
              spread_text(sun)});
  if (sun.tilts) {
    document.emplace_back(Heading{"Other tilts, facing the same way"});
    document.emplace_back(tilt_table(*sun.tilts));
    document.emplace_back(Paragraph{.text = best_text(*sun.tilts)});
  }
  for (const Assumption& assumption : sun.assumptions) {
    document.emplace_back(Paragraph{.text = assumption.text});
  }
  if (!quiet) append_rough_sun(document, sun.site, sun.rough);
  return document;
}

}  // namespace

std::string sun_report(const Sun& sun, const OutputStyle& style) {
  return in_form(
      style, [&] { return sun_json(sun); },
      [&] { return table_csv(sun.tilts ? tilt_table(*sun.tilts) : month_table(sun)); },
      [&] { return sun_document(sun, style.quiet); });
}

}  // namespace amptally::report
