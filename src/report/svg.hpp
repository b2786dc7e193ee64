#pragma once

#include <string>
#include <vector>

#include "report/html.hpp"

/// Drawings for the page. Lengths across are in per cent of the drawing's width, so that a chart
/// fills a phone and a sheet alike; lengths down are in pixels, so that its words keep their size.
namespace amptally::report {

/// A drawing with words for those who cannot see it.
struct Svg {
  std::string id;           ///< with which those of its words begin
  std::string title;        ///< what it is
  std::string description;  ///< what it shows
  std::string css_class;
  double height_px;
  Html inside;
};

[[nodiscard]] Html svg_html(const Svg& svg);

/// "12.5"
[[nodiscard]] std::string px(double value);
/// "12.5%" for 0.125
[[nodiscard]] std::string across(double share);

[[nodiscard]] Html svg_text(const std::string& x, double y, const std::string& css_class,
                            const std::string& words);
struct Bar {
  std::string css_class;
  double left_share;
  double width_share;
  double top_px;
  double height_px;
};
[[nodiscard]] Html bar_html(const Bar& bar);
/// The middles of twelve months, named below a chart whose ground is at `y`.
[[nodiscard]] Html month_names(double y);
inline constexpr double kMonthNames_px = 24;  ///< the height they take
/// A line across the whole drawing.
[[nodiscard]] Html level_line(double y, const std::string& css_class);

/// A round step, 1, 2 or 5 of some power of ten, of which `largest` takes at most five; 1 for 0.
[[nodiscard]] double axis_step(double largest);

/// What a colour and a shape mean, below a chart.
struct Key {
  enum class Shape { area, line };
  Shape shape;
  std::string css_class;  ///< as in the drawing
  std::string words;
};
[[nodiscard]] Html keys_html(const std::vector<Key>& keys);

/// A chart with its caption, what its signs mean, and its figures folded below.
[[nodiscard]] Html figure_html(const std::string& caption, const Html& drawing,
                               const std::vector<Key>& keys, const Html& figures);

}  // namespace amptally::report
