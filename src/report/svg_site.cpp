#include "report/svg_site.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/labels.hpp"
#include "report/svg.hpp"
#include "report/svg_icons.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

// The drawing is as wide as the narrowest phones in use and keeps its size; lengths are pixels.
constexpr double kWidth = 344;
constexpr double kIcons_x = 48;  // the middle of the parts, and the main wire
constexpr double kLoads_x = 74;  // the wire that passes the battery to the loads
constexpr double kWords_x = 98;
constexpr double kLine = 17;                  // from one line of words to the next
constexpr std::size_t kPartNameColumns = 30;  // bold letters that fit beside the parts, wide ones
constexpr std::size_t kFigureColumns = 33;
constexpr std::size_t kMostLoads = 8;

using Words = std::vector<std::string>;

Html at(double x, double y, const Html& icon) {
  return element("g", {{"transform", fmt::format("translate({} {})", px(x), px(y))}}, icon) +
         Html{"\n"};
}

// ---- One below the other ---------------------------------------------------------------------

class Stack {
 public:
  /// @param above, below  what the icon takes on either side of its middle
  /// @return where its middle came to lie, from the top of the drawing
  double add(const Html& icon, double above, double below, const std::string& name,
             const Words& figures) {
    const Words names = wrapped(printable(name), kPartNameColumns);
    Words lines;
    for (const std::string& figure : figures) {
      for (std::string& line : wrapped(printable(figure), kFigureColumns)) {
        lines.push_back(std::move(line));
      }
    }
    const double words = kLine * static_cast<double>(names.size() + lines.size());
    const double height = std::max(above + below, words);
    const double middle = y_ + (height - above - below) / 2 + above;
    icons_ += at(kIcons_x, middle, icon);
    write(y_ + (height - words) / 2, names, lines);
    tell(name, figures);
    y_ += height + kGap;
    return middle;
  }

  void add_wire(const Html& wire) { wires_ += wire; }

  [[nodiscard]] Html html() const { return wires_ + icons_ + words_; }
  [[nodiscard]] double height() const { return y_ - kGap + 4; }
  /// All its words, for those who cannot see it.
  [[nodiscard]] const std::string& told() const { return told_; }

 private:
  static constexpr double kGap = 18;

  void write(double y, const Words& names, const Words& figures) {
    const auto line = [&](const char* css_class, const std::string& words, std::size_t columns) {
      words_ += svg_text(px(kWords_x), y + 13, css_class, shortened(words, columns));
      y += kLine;
    };
    for (const std::string& words : names) line("name", words, kPartNameColumns);
    for (const std::string& words : figures) line("figure", words, kFigureColumns);
  }

  void tell(const std::string& name, const Words& figures) {
    told_ += (told_.empty() ? "" : " ") + name;
    for (std::size_t i = 0; i < figures.size(); ++i) told_ += (i == 0 ? ": " : ", ") + figures[i];
    told_ += '.';
  }

  double y_ = 4;
  Html wires_;
  Html icons_;
  Html words_;
  std::string told_;
};

// ---- What is said of each --------------------------------------------------------------------

std::string ah_text(double ah_day) { return rounded(ah_day, ah_day < 1 ? 2 : 1); }

/// The month in which a figure is least.
template <typename Figure>
int least_month(const Balance& balance, Figure figure) {
  const auto least =
      std::min_element(balance.months.begin(), balance.months.end(),
                       [&](const auto& a, const auto& b) { return a.*figure < b.*figure; });
  return static_cast<int>(least - balance.months.begin());
}

Words sun_figures(const Balance& balance) {
  const auto figure = &MonthBalance::sun_panel_kwh_m2_day;
  const int month = least_month(balance, figure);
  return {fmt::format("{} kWh/m² a day on the panel over",
                      rounded(a_day(balance.year.sun_panel_kwh_m2), 2)) +
              " the year",
          fmt::format("{} in {}, the least",
                      rounded(balance.months[static_cast<std::size_t>(month)].*figure, 2),
                      month_name(month))};
}

Words panel_figures(const Balance& balance) {
  const auto figure = &MonthBalance::charge_ah_day;
  const int month = least_month(balance, figure);
  return {fmt::format(
      "could charge {} Ah a day over the year, {} in {}", ah_text(a_day(balance.year.charge_ah)),
      ah_text(balance.months[static_cast<std::size_t>(month)].*figure), month_name(month))};
}

Words battery_figures(const Balance& balance) {
  Words figures;
  if (std::isfinite(balance.year.autonomy_days)) {
    figures.push_back(fmt::format("carries {} without sun in {}",
                                  days_text(balance.year.autonomy_days, 1),
                                  month_name(balance.year.autonomy_month)));
  }
  figures.push_back(fmt::format("{} % may be used, {} % stays",
                                rounded(100 * balance.aim.floor_share, 0),
                                rounded(100 * (1 - balance.aim.floor_share), 0)));
  return figures;
}

Words tank_figures(const TankStudy& tank) {
  Words figures = {rounded(tank.usable_l, 0) + " L can be used"};
  if (tank.days_to_empty) {
    figures.push_back(fmt::format("full, it lasts {} in {}",
                                  days_text(*tank.days_to_empty, *tank.days_to_empty < 10 ? 1 : 0),
                                  month_name(tank.days_to_empty_month)));
  }
  if (tank.is_filled_by_hand) return figures;
  figures.push_back(tank.dry_days > 0
                        ? fmt::format("dry on {} of a mean year", days_text(tank.dry_days, 0))
                        : "never dry in a mean year");
  return figures;
}

Words line_figures(const LineStudy& line) {
  if (!line.flow) return {no_flow_text(*line.no_flow)};
  Words figures = {flow_text(*line.flow)};
  const std::string span = minutes_span(line);
  if (!span.empty()) figures.push_back(span + " min a day for its demand");
  return figures;
}

// ---- Putting it together ---------------------------------------------------------------------

std::string down(double x, double from, double to) {
  return fmt::format("M{} {} V{}", px(x), px(from), px(to));
}

/// Sun, panel, regulator, battery.
/// @return from where the loads are fed: across and down
std::pair<double, double> add_supply(Stack& stack, const Budget& budget) {
  const Balance& balance = budget.balance;
  const Regulator& regulator = budget.site.regulator;
  stack.add(sun_icon(), 30, 30, "Sun", sun_figures(balance));
  const double panel = stack.add(panel_icon(budget.site.panel.tilt_deg), 34, 44,
                                 panel_text(budget.site.panel), panel_figures(balance));
  double before = panel;
  std::pair<double, double> feed = {kIcons_x, 0};
  if (regulator.kind != RegulatorKind::none) {
    const double middle = stack.add(
        regulator_icon(), 18, 18, std::string(regulator_text(regulator.kind)),
        {fmt::format("takes {} Ah a day itself", ah_text(a_day(balance.year.standby_ah)))});
    stack.add_wire(wire("wire", down(kIcons_x, panel + 36, middle)));
    before = middle;
    feed = {kLoads_x, middle};
  }
  const double battery = stack.add(battery_icon(balance.aim.floor_share), 24, 26,
                                   battery_text(budget.site.battery), battery_figures(balance));
  stack.add_wire(wire("wire", down(kIcons_x, before, battery)));
  if (regulator.kind == RegulatorKind::none) feed.second = battery;
  return feed;
}

void add_loads(Stack& stack, const Balance& balance, std::pair<double, double> feed) {
  std::size_t left_out = 0;
  std::size_t shown = 0;
  double last = feed.second;
  for (const Use& use : balance.uses) {
    if (use.name == kStandbyUse) continue;  // told beside the regulator
    if (shown == kMostLoads) {
      ++left_out;
      continue;
    }
    ++shown;
    const double middle =
        stack.add(load_icon(), 9, 9, use.name, {ah_text(use.ah_day) + " Ah a day"});
    stack.add_wire(
        wire("wire", fmt::format("M{} {} H{}", px(feed.first), px(middle), px(kIcons_x))));
    last = middle;
  }
  if (shown > 0) stack.add_wire(wire("wire", down(feed.first, feed.second, last)));
  if (left_out > 0) stack.add({}, 0, 0, fmt::format("and {} more loads", left_out), {});
}

void add_water(Stack& stack, const WaterAnswer& answer) {
  const WaterStudy& study = answer.study;
  double from = 0;
  if (study.tank) {
    const bool has_roof = answer.site.water->tank->roof_m2.has_value();
    from = stack.add(tank_icon(has_roof), 36, 26, "Tank", tank_figures(*study.tank)) + 24;
  }
  for (const LineStudy& line : study.lines) {
    const double middle = stack.add(line_icon(), 24, 24, line.name, line_figures(line));
    if (from > 0) stack.add_wire(wire("tube", down(kIcons_x, from, middle - 10)));
  }
}

}  // namespace

Html site_drawing(const Budget& budget, const WaterAnswer* water) {
  Stack stack;
  const auto feed = add_supply(stack, budget);
  add_loads(stack, budget.balance, feed);
  if (water != nullptr) add_water(stack, *water);
  const std::string size = fmt::format("0 0 {} {}", px(kWidth), px(stack.height()));
  const Html drawing =
      element("svg",
              {{"class", "parts"},
               {"role", "img"},
               {"aria-labelledby", "parts-title parts-desc"},
               {"viewBox", size}},
              element("title", {{"id", "parts-title"}},
                      html_text("The parts of the site, from the sun down")) +
                  element("desc", {{"id", "parts-desc"}}, html_text(stack.told())) + Html{"\n"} +
                  stack.html());
  return element("figure", {{"class", "parts"}}, drawing);
}

}  // namespace amptally::report
