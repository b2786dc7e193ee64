#include "report/svg_charge.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "amptally/sun.hpp"

#include "report/document_html.hpp"
#include "report/labels.hpp"
#include "report/svg.hpp"
#include "report/table.hpp"
#include "report/verdict.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

constexpr double kChargeHeight_px = 220;  // of full to empty

double y_of(double charge) { return kChargeHeight_px * (1 - charge); }

/// Charge, 0..1, on each day.
using Curve = std::vector<double>;

Curve line_of(const Balance& balance, double DayBalance::*figure) {
  Curve line;
  for (const DayBalance& day : balance.days) line.push_back(day.*figure);
  return line;
}

/// A point a day, within a drawing that is a day wide a unit and 100 high.
std::string points(const Curve& line) {
  std::string path;
  for (std::size_t day = 0; day < line.size(); ++day) {
    path += fmt::format("{}{} {}", day == 0 ? "M" : " L", day, px(100 * (1 - line[day])));
  }
  return path;
}

Html path(const std::string& css_class, const std::string& data) {
  return lone("path", {{"class", css_class}, {"d", data}}) + Html{"\n"};
}

/// The area under a line, and within it that under the floor which the line leaves open.
Html areas(const Curve& low, double floor_charge) {
  const std::size_t last = low.size() - 1;
  Curve missing = low;
  for (double& charge : missing) charge = std::min(charge, floor_charge);
  const std::string floor_y = px(100 * (1 - floor_charge));
  return path("charge-area", fmt::format("{} L{} 100 L0 100 Z", points(low), last)) +
         path("below-floor",
              fmt::format("{} L{} {} L0 {} Z", points(missing), last, floor_y, floor_y));
}

/// The part that is stretched to the width of the page.
Html stretched(const Balance& balance, const Curve& low) {
  Html inside = areas(low, 1 - balance.aim.floor_share) + path("charge-low", points(low));
  if (balance.years > 1) {
    inside += path("charge-mean", points(line_of(balance, &DayBalance::state_of_charge_end)));
  }
  return element("svg",
                 {{"viewBox", fmt::format("0 0 {} 100", low.size() - 1)},
                  {"preserveAspectRatio", "none"},
                  {"width", "100%"},
                  {"height", px(kChargeHeight_px)}},
                 inside);
}

Html axes(double floor_charge) {
  Html html;
  for (const int percent : {0, 25, 50, 75, 100}) {
    const double y = y_of(percent / 100.0);
    html += level_line(y, "grid") + svg_text("-8", y + 4, "scale", fmt::format("{} %", percent));
  }
  html += level_line(y_of(floor_charge), "floor");
  return html + month_names(kChargeHeight_px + 18);
}

std::string low_words(const Balance& balance) {
  if (differs_by_tenths(balance)) {
    return fmt::format("left on a bad day: one {}year in ten goes below this",
                       sort_of_year(balance.weather));
  }
  if (balance.years > 1) {
    return fmt::format("left on a bad day: near the lowest of the {} years", balance.years);
  }
  return "left when the day is at its lowest";
}

std::vector<Key> keys_of(const Balance& balance) {
  std::vector<Key> keys;
  if (balance.years > 1) {
    keys.push_back({Key::Shape::line, "charge-mean",
                    fmt::format("left at midnight, the mean of {} years", balance.years)});
  }
  keys.push_back({Key::Shape::area, "charge-area", low_words(balance)});
  keys.push_back({Key::Shape::line, "floor",
                  fmt::format("the floor: {} % should stay in the battery",
                              rounded(100 * (1 - balance.aim.floor_share), 0))});
  return keys;
}

/// "13 % on 8 December"
std::string lowest_text(const Curve& line) {
  const auto lowest = std::min_element(line.begin(), line.end());
  return fmt::format("{} % on {}", rounded(100 * *lowest, 0),
                     date_text(static_cast<int>(lowest - line.begin()) + 1));
}

/// A month's lowest.
double lowest_in(const Curve& line, int month) {
  const auto first = line.begin() + first_day_of_month(month) - 1;
  return *std::min_element(first, first + days_in_month(month));
}

Table figures(const Balance& balance, const Curve& low) {
  const bool has_mean = balance.years > 1;
  const Curve mean = line_of(balance, &DayBalance::state_of_charge_end);
  Table table{.columns = {{"Month", "", "", Align::left}}, .rows = {}};
  if (has_mean) table.columns.push_back({"Mean at midnight, at its lowest", "%", ""});
  table.columns.push_back({has_mean ? "On a bad day, at its lowest" : "At its lowest", "%", ""});
  for (int month = 0; month < 12; ++month) {
    std::vector<Cell> row = {word(std::string(month_name(month)))};
    if (has_mean) row.push_back(percent(lowest_in(mean, month)));
    row.push_back(percent(lowest_in(low, month)));
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

Html charge_figure(const Balance& balance) {
  const Curve low = line_of(balance, &DayBalance::state_of_charge_min);
  const double floor_charge = 1 - balance.aim.floor_share;
  const std::string title = "Charge left in the battery, from January to December";
  const Svg svg{.id = "charge",
                .title = title,
                .description = fmt::format(
                    "Shaded: charge {}; lowest at {}. Dashed: the floor, {} %.", low_words(balance),
                    lowest_text(low), rounded(100 * floor_charge, 0)),
                .css_class = "chart",
                .height_px = kChargeHeight_px + kMonthNames_px,
                .inside = stretched(balance, low) + axes(floor_charge)};
  const std::string summary = "The same in figures";
  return figure_html(title + ", in per cent of full", svg_html(svg), keys_of(balance),
                     folded(summary, table_html(figures(balance, low), title)));
}

}  // namespace amptally::report
