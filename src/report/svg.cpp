#include "report/svg.hpp"

#include <cmath>

#include "report/labels.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

constexpr double kSwatch_px = 14;

}  // namespace

Html svg_html(const Svg& svg) {
  const std::string title_id = svg.id + "-title";
  const std::string description_id = svg.id + "-desc";
  return element("svg",
                 {{"class", svg.css_class},
                  {"role", "img"},
                  {"aria-labelledby", title_id + " " + description_id},
                  {"height", px(svg.height_px)}},
                 element("title", {{"id", title_id}}, html_text(svg.title)) +
                     element("desc", {{"id", description_id}}, html_text(svg.description)) +
                     Html{"\n"} + svg.inside);
}

std::string px(double value) {
  std::string text = rounded(value, 1);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text;
}

std::string across(double share) { return rounded(100 * share, 2) + "%"; }

Html svg_text(const std::string& x, double y, const std::string& css_class,
              const std::string& words) {
  return element("text", {{"x", x}, {"y", px(y)}, {"class", css_class}}, html_text(words)) +
         Html{"\n"};
}

Html level_line(double y, const std::string& css_class) {
  return lone("line",
              {{"class", css_class}, {"x1", "0"}, {"x2", "100%"}, {"y1", px(y)}, {"y2", px(y)}}) +
         Html{"\n"};
}

Html bar_html(const Bar& bar) {
  return lone("rect", {{"class", bar.css_class},
                       {"x", across(bar.left_share)},
                       {"width", across(bar.width_share)},
                       {"y", px(bar.top_px)},
                       {"height", px(bar.height_px)}}) +
         Html{"\n"};
}

Html month_names(double y) {
  Html names;
  for (int month = 0; month < 12; ++month) {
    names += svg_text(across((month + 0.5) / 12), y, "month",
                      std::string(month_name(month).substr(0, 3)));
  }
  return names;
}

double axis_step(double largest) {
  constexpr double kMostSteps = 5;
  if (!(largest > 0)) return 1;
  const double power = std::pow(10, std::floor(std::log10(largest / kMostSteps)));
  for (const double digit : {1.0, 2.0, 5.0}) {
    if (digit * power * kMostSteps >= largest) return digit * power;
  }
  return 10 * power;
}

Html keys_html(const std::vector<Key>& keys) {
  Html items;
  for (const Key& key : keys) {
    const Html sign = key.shape == Key::Shape::line
                          ? level_line(kSwatch_px / 2, key.css_class)
                          : bar_html({key.css_class, 0, 1, 0, kSwatch_px});
    const Html swatch = element("svg", {{"class", "swatch"}, {"aria-hidden", "true"}}, sign);
    items += element("li", swatch + html_text(key.words)) + Html{"\n"};
  }
  return element("ul", {{"class", "keys"}}, items);
}

Html figure_html(const std::string& caption, const Html& drawing, const std::vector<Key>& keys,
                 const Html& figures) {
  return element("figure", element("figcaption", html_text(caption)) +
                               element("div", {{"class", "plot"}}, drawing) + keys_html(keys) +
                               figures);
}

}  // namespace amptally::report
