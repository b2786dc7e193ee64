#include "report/svg_months.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "report/document_html.hpp"
#include "report/labels.hpp"
#include "report/svg.hpp"
#include "report/table.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

constexpr double kBarsHeight_px = 200;
constexpr double kTop_px = 8;  // above the highest step, for half its label

/// The upright axis: amp-hours a day from 0 to `top`.
struct Scale {
  double step;
  double top;
  int decimals;

  [[nodiscard]] double y_of(double ah_day) const {
    return kTop_px + kBarsHeight_px * (1 - ah_day / top);
  }
};

Scale scale_of(const Balance& balance) {
  double largest = 0;
  for (const MonthBalance& month : balance.months) {
    largest = std::max({largest, month.charge_ah_day, month.use_ah_day});
  }
  const double step = axis_step(largest);
  return {.step = step,
          .top = step * std::max(1.0, std::ceil(largest / step)),
          .decimals = step < 0.1 ? 2
                      : step < 1 ? 1
                                 : 0};
}

Html axes(const Scale& scale) {
  Html html;
  const auto steps = static_cast<int>(std::lround(scale.top / scale.step));
  for (int i = 0; i <= steps; ++i) {
    const double y = scale.y_of(i * scale.step);
    html += level_line(y, "grid") +
            svg_text("-8", y + 4, "scale", rounded(i * scale.step, scale.decimals));
  }
  return html + month_names(kTop_px + kBarsHeight_px + 18);
}

/// A bar for the charge; across it, a little wider, a line at the height of the use.
Html month_html(const MonthBalance& month, int index, const Scale& scale) {
  const double left = index / 12.0;
  const double ground = scale.y_of(0);
  const double charge = scale.y_of(month.charge_ah_day);
  const std::string y = px(scale.y_of(month.use_ah_day));
  const auto use = [&](const char* css_class) {
    return lone("line", {{"class", css_class},
                         {"x1", across(left + 0.006)},
                         {"x2", across(left + 0.077)},
                         {"y1", y},
                         {"y2", y}});
  };
  return bar_html({"charge-bar", left + 0.016, 0.051, charge, ground - charge}) + use("halo") +
         use("use-line") + Html{"\n"};
}

std::string description(const Balance& balance) {
  const auto least = std::min_element(
      balance.months.begin(), balance.months.end(),
      [](const auto& a, const auto& b) { return a.balance_ah_day() < b.balance_ah_day(); });
  const auto index = static_cast<int>(least - balance.months.begin());
  return fmt::format(
      "The bars are the charge, the lines the use. Closest in {}: {} Ah a day of charge, {} Ah of "
      "use.",
      month_name(index), rounded(least->charge_ah_day, decimals_for(least->charge_ah_day)),
      rounded(least->use_ah_day, decimals_for(least->use_ah_day)));
}

}  // namespace

Html months_figure(const Balance& balance) {
  const Scale scale = scale_of(balance);
  Html inside = axes(scale);
  int index = 0;
  for (const MonthBalance& month : balance.months) inside += month_html(month, index++, scale);
  const std::string title = "Charge and use, amp-hours a day";
  const Svg svg{.id = "months",
                .title = title,
                .description = description(balance),
                .css_class = "chart",
                .height_px = kTop_px + kBarsHeight_px + kMonthNames_px,
                .inside = inside};
  const std::string heading = months_heading(balance);
  return figure_html(title, svg_html(svg),
                     {{Key::Shape::area, "charge-bar", "charge the panel and regulator could give"},
                      {Key::Shape::line, "use-line", "use: what loads and regulator ask for"}},
                     folded(heading, table_html(month_table(balance), heading)));
}

}  // namespace amptally::report
