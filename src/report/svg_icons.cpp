#include "report/svg_icons.hpp"

#include <fmt/format.h>

#include "report/svg.hpp"

namespace amptally::report {

Html wire(const std::string& css_class, const std::string& path) {
  return lone("path", {{"class", css_class}, {"d", path}}) + Html{"\n"};
}

Html sun_icon() {
  Html rays;
  for (int i = 0; i < 8; ++i) {
    rays += lone("line", {{"class", "ray"},
                          {"x1", "0"},
                          {"y1", "-21"},
                          {"x2", "0"},
                          {"y2", "-29"},
                          {"transform", fmt::format("rotate({})", 45 * i)}});
  }
  return rays + lone("circle", {{"class", "sun"}, {"r", "15"}});
}

Html panel_icon(double tilt_deg) {
  const Html board = lone("rect", {{"class", "panel"},
                                   {"x", "-32"},
                                   {"y", "-4"},
                                   {"width", "64"},
                                   {"height", "8"},
                                   {"rx", "1"},
                                   {"transform", fmt::format("rotate({})", px(-tilt_deg))}});
  return wire("stand", "M-30 36 H30 M0 0 V36") + board;
}

Html regulator_icon() {
  return lone("rect", {{"class", "part"},
                       {"x", "-38"},
                       {"y", "-18"},
                       {"width", "76"},
                       {"height", "36"},
                       {"rx", "5"}}) +
         wire("mark", "M-24 4 h12 l6 -9 l6 14 l6 -14 l6 9 h12");
}

Html battery_icon(double floor_share) {
  constexpr double kTop = -16;
  constexpr double kHeight = 42;
  const double usable = kHeight * floor_share;
  const auto fill = [](const char* css_class, double top, double height) {
    return lone("rect", {{"class", css_class},
                         {"x", "-19"},
                         {"y", px(top)},
                         {"width", "38"},
                         {"height", px(height)}});
  };
  return wire("mark", "M-11 -24 v6 M11 -24 v6") + fill("usable", kTop, usable) +
         fill("kept", kTop + usable, kHeight - usable) +
         wire("floor", fmt::format("M-19 {} H19", px(kTop + usable))) +
         lone("rect", {{"class", "outline"},
                       {"x", "-19"},
                       {"y", px(kTop)},
                       {"width", "38"},
                       {"height", px(kHeight)},
                       {"rx", "3"}});
}

Html load_icon() { return lone("circle", {{"class", "part"}, {"r", "8"}}); }

Html tank_icon(bool has_roof) {
  const Html body =
      lone("rect",
           {{"class", "water"}, {"x", "-26"}, {"y", "-6"}, {"width", "52"}, {"height", "30"}}) +
      wire("mark", "M-26 -18 V24 H26 V-18");
  return has_roof ? wire("mark", "M-42 -34 L-6 -24") + wire("drop", "M-6 -22 V-7") + body : body;
}

Html line_icon() {
  return wire("tube", "M0 -24 V-10 H26") + wire("drop", "M26 -8 v6") +
         wire("plant", "M26 22 V8 M26 14 q-10 0 -11 -8 q10 0 11 8 q10 -1 11 -9 q-10 1 -11 9");
}

}  // namespace amptally::report
