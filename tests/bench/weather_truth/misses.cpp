#include "misses.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include <fmt/format.h>

#include "cells.hpp"
#include "verdict.hpp"

using namespace amptally;
using report::number;
using report::rounded;
using report::Table;
using report::word;

namespace weather_truth {
namespace {

std::string year_miss(const Case& c) {
  std::string text;
  const Spread& days = c.synthetic.short_days_of_years;
  if (!is_inside(c)) {
    text += fmt::format("{:.0f} d, not {:.0f}..{:.0f}", c.file.short_days, days.p10, days.p90);
  }
  if (!is_served_alike(c)) {
    text += (text.empty() ? "" : "; ") + fmt::format("served {:+.1f}", c.served_too_kind_points());
  }
  return text;
}

std::string run_miss(const Case& c) {
  std::string text;
  const RunCheck check = check_run(c);
  const auto add = [&](const std::string& miss) { text += (text.empty() ? "" : "; ") + miss; };
  if (!check.p50) add(fmt::format("p50 {:+.0f}", too_many_p50(c)));
  if (!check.p90) add(fmt::format("p90 {:+.0f}", too_many_p90(c)));
  if (!check.served) add(fmt::format("served {:+.1f}", c.served_too_kind_points()));
  return text;
}

// A row a plane and battery, a column a ratio; rows without a miss are left out.
std::string misses_table(const std::vector<Case>& cases,
                         const std::function<std::string(const Case&)>& miss) {
  Table table;
  table.columns = {named(""), figure("battery", "days")};
  std::vector<double> ratios;
  for (const Case& c : cases) {
    if (std::find(ratios.begin(), ratios.end(), c.sun_over_use) != ratios.end()) continue;
    ratios.push_back(c.sun_over_use);
    table.columns.push_back(named(rounded(c.sun_over_use, 2)));
  }
  for (std::size_t first = 0; first < cases.size(); first += 3 * ratios.size()) {
    for (std::size_t battery = 0; battery < 3; ++battery) {
      const Case& c = cases[first + battery];
      std::vector<report::Cell> row = {word(c.plane.title()), number(c.usable_days, 1)};
      bool any = false;
      for (std::size_t r = 0; r < ratios.size(); ++r) {
        const std::string text = miss(cases[first + 3 * r + battery]);
        any = any || !text.empty();
        row.push_back(word(text));
      }
      if (any) table.rows.push_back(row);
    }
  }
  return table.rows.empty() ? "None.\n" : report::table_markdown(table);
}

// A row a station that has months beyond the bar.
std::string plane_misses(const Results& results) {
  Table table;
  table.columns = {named(""), figure("months"), figure("beyond 10 %"), figure("the worst", "%"),
                   named("where")};
  for (const DayFigures& days : results.days) {
    int months = 0;
    int beyond = 0;
    const PlaneMonth* worst = nullptr;
    for (const PlaneMonth& month : results.planes) {
      if (month.station != days.station || month.is_low_sun()) continue;
      ++months;
      if (std::abs(month.from_means_pct) > kPlaneMonth_pct) ++beyond;
      if (!worst || std::abs(month.from_means_pct) > std::abs(worst->from_means_pct)) {
        worst = &month;
      }
    }
    if (beyond == 0) continue;
    table.rows.push_back({word(days.station->name()), report::count(months), report::count(beyond),
                          signed_number(worst->from_means_pct, 1),
                          word(fmt::format("{}, tilt {}, {} degrees from the equator",
                                           kMonthNames[static_cast<std::size_t>(worst->month)],
                                           worst->tilt_deg, worst->from_equator_deg))});
  }
  return table.rows.empty() ? "None.\n" : report::table_markdown(table);
}

}  // namespace

std::string misses_text(const Results& results) {
  return "Sun in planes all round, from twelve means; the bar is 10 %:\n\n" +
         plane_misses(results) +
         "\n"
         "Against single years, by sun over use:\n\n" +
         misses_table(results.year_cases, year_miss) +
         "\nAgainst measured runs, by sun over use:\n\n" +
         misses_table(results.run_cases, run_miss);
}

}  // namespace weather_truth
