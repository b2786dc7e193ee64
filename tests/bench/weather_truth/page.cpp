#include "page.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "cells.hpp"
#include "misses.hpp"
#include "verdict.hpp"

using namespace amptally;
using report::number;
using report::rounded;
using report::Table;
using report::word;

namespace weather_truth {
namespace {

std::vector<Case> in_zone(const std::vector<Case>& cases, Zone zone) {
  std::vector<Case> in;
  std::copy_if(cases.begin(), cases.end(), std::back_inserter(in),
               [&](const Case& c) { return c.plane.station->zone() == zone; });
  return in;
}

report::Cell share_of(const std::vector<Case>& cases, const std::function<bool(const Case&)>& is) {
  return number(per_cent(cases, is), 0);
}

// ---- Sun in the plane ----

std::string suns_text(const Results& results) {
  Table table;
  table.columns = {named("")};
  for (const auto& month : kMonthNames)
    table.columns.push_back(figure(std::string(month.substr(0, 3))));
  table.columns.insert(table.columns.end(),
                       {figure("rms of months"), figure("worst"), figure("year")});
  for (const SunErrors& sun : results.suns) {
    std::vector<report::Cell> row = {word(sun.plane.title())};
    for (const double pct : sun.pct) row.push_back(number(pct, 1));
    for (const double pct : {sun.rms_pct, sun.worst_pct, sun.year_pct}) {
      row.push_back(number(pct, 1));
    }
    table.rows.push_back(row);
  }
  return report::table_markdown(table);
}

// Groups of planes and months, each with its errors from twelve means and from its own days.
std::string planes_text(const Results& results) {
  Table table;
  table.columns = {named("latitude"),
                   named("the panel faces"),
                   figure("months"),
                   figure("rms", "%"),
                   figure("mean", "%"),
                   figure("worst", "%"),
                   figure("within 10 %", "% of months"),
                   figure("own days: rms", "%"),
                   figure("mean", "%"),
                   figure("worst", "%"),
                   figure("within 10 %", "% of months")};
  const auto row = [&](const std::string& zone, const std::string& name,
                       const std::function<bool(const PlaneMonth&)>& counts) {
    const PlaneErrors means = errors_of(results.planes, &PlaneMonth::from_means_pct, counts);
    if (means.months == 0) return;
    table.rows.push_back({word(zone), word(name), report::count(means.months)});
    for (const PlaneErrors& e :
         {means, errors_of(results.planes, &PlaneMonth::from_days_pct, counts)}) {
      table.rows.back().insert(table.rows.back().end(),
                               {number(e.rms_pct, 1), number(e.mean_pct, 1), number(e.worst_pct, 1),
                                number(100 * e.within_10, 0)});
    }
  };
  for (const Zone zone : kZones) {
    for (const auto& [turned_deg, name] : {std::pair{0, "the equator"},
                                           {45, "45 degrees off"},
                                           {90, "east or west"},
                                           {135, "135 degrees off"},
                                           {180, "away from the equator"}}) {
      row(zone_name(zone), name, [zone, turned = turned_deg](const PlaneMonth& month) {
        return month.station->zone() == zone && month.from_equator_deg == turned &&
               !month.is_low_sun();
      });
    }
    row(zone_name(zone), "anywhere, low sun", [zone](const PlaneMonth& month) {
      return month.station->zone() == zone && month.is_low_sun();
    });
  }
  return report::table_markdown(table);
}

// ---- Days and spells ----

report::Cell both(double file, double synthetic, int decimals) {
  return word(rounded(file, decimals) + " / " + rounded(synthetic, decimals));
}

std::vector<report::Cell> sun_row(const std::string& name, const SunFigures& file,
                                  const SunFigures& synthetic, bool is_run) {
  std::vector<report::Cell> row = {
      word(name), both(file.spread, synthetic.spread, 2), both(file.lag_1, synthetic.lag_1, 2),
      is_run ? both(file.years_pct, synthetic.years_pct, 1) : word("")};
  for (std::size_t i = 0; i < kSpells_days.size(); ++i) {
    row.push_back(both(file.worst_pct[i], synthetic.worst_pct[i], 0));
  }
  return row;
}

std::string days_text(const Results& results) {
  std::string text;
  for (const Zone zone : kZones) {
    Table table;
    table.columns = {named("latitude " + zone_name(zone)), figure("spread"), figure("day before"),
                     figure("between years", "%")};
    for (const int days : kSpells_days) {
      table.columns.push_back(figure(fmt::format("worst {} d", days), "%"));
    }
    for (const DayFigures& days : results.days) {
      if (days.station->zone() != zone) continue;
      const bool is_run = days.station->is_run();
      table.rows.push_back(sun_row(days.station->name(), days.file, days.synthetic, is_run));
      table.rows.push_back(
          sun_row("its dullest quarter", days.file_dull, days.synthetic_dull, is_run));
    }
    if (!table.rows.empty()) text += report::table_markdown(table) + "\n";
  }
  if (!text.empty()) text.pop_back();
  return text;
}

std::string air_text(const Results& results) {
  Table table;
  table.columns = {named(""),
                   figure("deviation, file", "K"),
                   figure("synthetic", "K"),
                   figure("day before, file"),
                   figure("synthetic"),
                   figure("with the sun, file"),
                   figure("synthetic"),
                   figure("days below 0, file", "a year"),
                   figure("synthetic", "a year")};
  for (const DayFigures& days : results.days) {
    const AirFigures& file = days.file_air;
    const AirFigures& synthetic = days.synthetic_air;
    table.rows.push_back({word(days.station->name()), number(file.deviation_k, 1),
                          number(synthetic.deviation_k, 1), number(file.lag_1, 2),
                          number(synthetic.lag_1, 2), number(file.with_sun, 2),
                          number(synthetic.with_sun, 2), number(file.frost_days, 1),
                          number(synthetic.frost_days, 1)});
  }
  return report::table_markdown(table);
}

// ---- Small systems ----

std::string years_text(const Results& results) {
  Table zones;
  zones.columns = {named("latitude"),
                   figure("cases"),
                   figure("served, worst", "points"),
                   figure("without sign", "points"),
                   figure("with sign", "points"),
                   figure("short days inside", "% of cases")};
  for (const Zone zone : kZones) {
    const std::vector<Case> cases = in_zone(results.year_cases, zone);
    if (cases.empty()) continue;
    const Case& worst =
        *std::max_element(cases.begin(), cases.end(), [](const Case& a, const Case& b) {
          return std::abs(a.served_too_kind_points()) < std::abs(b.served_too_kind_points());
        });
    zones.rows.push_back(
        {word(zone_name(zone)), report::count(static_cast<int>(cases.size())),
         signed_number(worst.served_too_kind_points(), 2),
         number(mean_of(cases, [](const Case& c) { return std::abs(c.served_too_kind_points()); }),
                2),
         signed_number(mean_of(cases, std::mem_fn(&Case::served_too_kind_points)), 2),
         share_of(cases, is_inside)});
  }
  Table table;
  table.columns = {named("three days' use in the battery"),
                   figure("sun/use"),
                   figure("served, file", "%"),
                   figure("synthetic", "%"),
                   figure("short days, file"),
                   figure("synthetic"),
                   figure("p10..p90")};
  for (const Case& c : results.year_cases) {
    const bool is_shown = c.sun_over_use == 0.7 || c.sun_over_use == 1.0 || c.sun_over_use == 1.3;
    if (c.usable_days != 3 || !is_shown) continue;
    const Spread& days = c.synthetic.short_days_of_years;
    table.rows.push_back({word(c.plane.title()), number(c.sun_over_use, 2),
                          number(100 * c.file.served_share, 1),
                          number(100 * c.synthetic.served_share, 1), number(c.file.short_days, 0),
                          number(c.synthetic.short_days, 1),
                          word(fmt::format("{:.0f}..{:.0f}", days.p10, days.p90))});
  }
  return report::table_markdown(zones) + "\n" + report::table_markdown(table);
}

std::string run_zones_text(const Results& results) {
  Table table;
  table.columns = {named("latitude"),
                   figure("cases"),
                   figure("middle year alike", "%"),
                   figure("one in ten alike", "%"),
                   figure("served alike", "%"),
                   figure("all three", "%"),
                   figure("middle year, too many", "days"),
                   figure("one in ten, too many", "days"),
                   figure("served, too kind", "points")};
  for (const Zone zone : kZones) {
    const std::vector<Case> cases = in_zone(results.run_cases, zone);
    if (cases.empty()) continue;
    table.rows.push_back(
        {word(zone_name(zone)), report::count(static_cast<int>(cases.size())),
         share_of(cases, [](const Case& c) { return check_run(c).p50; }),
         share_of(cases, [](const Case& c) { return check_run(c).p90; }),
         share_of(cases, [](const Case& c) { return check_run(c).served; }),
         share_of(cases,
                  [](const Case& c) {
                    const RunCheck check = check_run(c);
                    return check.p50 && check.p90 && check.served;
                  }),
         signed_number(mean_of(cases, too_many_p50), 1),
         signed_number(mean_of(cases, too_many_p90), 1),
         signed_number(mean_of(cases, std::mem_fn(&Case::served_too_kind_points)), 2)});
  }
  return report::table_markdown(table);
}

std::string runs_text(const Results& results) {
  std::string text = run_zones_text(results);
  for (const Zone zone : kZones) {
    Table table;
    table.columns = {named("latitude " + zone_name(zone)),
                     figure("years"),
                     figure("sun/use"),
                     figure("middle year, measured"),
                     figure("synthetic"),
                     figure("one in ten, measured"),
                     figure("synthetic"),
                     figure("served, measured", "%"),
                     figure("synthetic", "%")};
    for (const Case& c : in_zone(results.run_cases, zone)) {
      if (c.usable_days != 3 || (c.sun_over_use != 1.0 && c.sun_over_use != 1.3)) continue;
      const Spread& file = c.file.short_days_of_years;
      const Spread& synthetic = c.synthetic.short_days_of_years;
      table.rows.push_back({word(c.plane.title()), report::count(c.plane.station->series->years),
                            number(c.sun_over_use, 2), number(file.p50, 0),
                            number(synthetic.p50, 0), number(file.p90, 0), number(synthetic.p90, 0),
                            number(100 * c.file.served_share, 1),
                            number(100 * c.synthetic.served_share, 1)});
    }
    if (!table.rows.empty()) text += "\n" + report::table_markdown(table);
  }
  return text;
}

// `page` with the text between two marks replaced.
std::string with_part(const std::string& page, const std::string& name, const std::string& text) {
  const std::string begin = "<!-- " + name + ": written by weather_truth -->\n";
  const std::string end = "<!-- end of " + name + " -->\n";
  const std::size_t from = page.find(begin);
  const std::size_t to = page.find(end);
  if (from == page.npos || to == page.npos) {
    throw std::runtime_error("the page has no lines " + begin + "and " + end);
  }
  return page.substr(0, from + begin.size()) + "\n" + text + "\n" + page.substr(to);
}

}  // namespace

std::string with_figures(std::string page, const Results& results) {
  for (const auto& [name, text] : {std::pair{"verdict", verdict_text(results)},
                                   {"runs", runs_text(results)},
                                   {"years", years_text(results)},
                                   {"misses", misses_text(results)},
                                   {"days", days_text(results)},
                                   {"air", air_text(results)},
                                   {"sun", suns_text(results)},
                                   {"planes", planes_text(results)}}) {
    page = with_part(page, name, text);
  }
  return page;
}

}  // namespace weather_truth
