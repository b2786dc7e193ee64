#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "amptally/panel.hpp"

#include "sitefile/section_readers.hpp"

namespace amptally::io {

namespace {

/// How far vmp x imp may be from the rated power. Chosen: labels are rounded and toleranced; beyond
/// this one of the three is a slip.
constexpr double kLabelTolerance_share = 0.15;

/// Flattest panel taken unasked: rain washes it. Common practice, no source.
constexpr double kFlattestTilt_deg = 10;

void check_label(ObjectReader& in, const Panel& panel) {
  const bool gives_current = panel.imp_a && panel.isc_a && (*panel.imp_a > 0 || *panel.isc_a > 0);
  if (gives_current && !(*panel.imp_a < *panel.isc_a)) {
    in.problem("imp", fmt::format("{:g} A is not below isc, {:g} A", *panel.imp_a, *panel.isc_a));
  }
  if (panel.vmp_v && panel.voc_v && !(*panel.vmp_v < *panel.voc_v)) {
    in.problem("vmp", fmt::format("{:g} V is not below voc, {:g} V", *panel.vmp_v, *panel.voc_v));
  }
  if (!(panel.imp_a && panel.vmp_v && in.has("power"))) return;
  const double product_w = *panel.imp_a * *panel.vmp_v;
  if (std::abs(product_w - panel.power_w) > kLabelTolerance_share * panel.power_w) {
    in.problem("power",
               fmt::format("{:g} W, but vmp x imp is {:.4g} W (all three are of one panel; "
                           "they may differ by {:g} %)",
                           panel.power_w, product_w, 100 * kLabelTolerance_share));
  }
}

void read_power(Reading& reading, ObjectReader& in, Panel& panel) {
  const std::optional<double> power = in.value("power");
  panel.power_w = power.value_or(0);
  if (in.has("power")) return;
  if (panel.vmp_v && panel.imp_a) {
    panel.power_w = *panel.vmp_v * *panel.imp_a;
    reading.assume(
        AssumptionKind::panel,
        fmt::format("Panel power not given: vmp x imp = {:.3g} W taken.", panel.power_w));
  } else if (!(in.has("vmp") && in.has("imp")) && !in.is_misspelled("power")) {
    in.problem("power", "is missing (a quantity in W, or vmp and imp)");
  }
}

// What if the panel were larger? `--set panel.power` means the same label in another size: its
// currents grow in proportion, unless they are set too.
void resize_label(Reading& reading, const ObjectReader& in, Panel& panel) {
  const bool currents_are_the_files = !in.is_set("imp") && !in.is_set("isc") && !in.is_set("vmp");
  if (!in.is_set("power") || !currents_are_the_files || !panel.vmp_v || !panel.imp_a) return;
  const double wanted_w = panel.power_w;
  panel.power_w = *panel.vmp_v * *panel.imp_a;  // of the file's label
  panel = with_power(std::move(panel), wanted_w);
  reading.assume(AssumptionKind::panel,
                 fmt::format("Panel power set to {:g} W: imp{} in proportion.", panel.power_w,
                             panel.isc_a ? " and isc" : ""));
}

void read_direction(Reading& reading, ObjectReader& in) {
  Panel& panel = reading.site.panel;
  const double latitude_deg = reading.site.place.latitude_deg;
  const double usual_tilt_deg = std::max(std::round(std::abs(latitude_deg)), kFlattestTilt_deg);
  const double towards_equator_deg = latitude_deg < 0 ? 0 : 180;
  panel.tilt_deg = in.value_or("tilt", usual_tilt_deg);
  panel.azimuth_deg = in.value_or("azimuth", towards_equator_deg);
  if (!in.has("tilt")) {
    reading.assume(
        AssumptionKind::panel,
        fmt::format("Panel tilt not given: {:g} deg taken, about the latitude.", usual_tilt_deg));
  }
  if (!in.has("azimuth")) {
    reading.assume(AssumptionKind::panel,
                   fmt::format("Panel azimuth not given: facing the equator ({}, {:g}°) taken.",
                               latitude_deg < 0 ? "north" : "south", towards_equator_deg));
  }
}

Obstacle read_obstacle(ObjectReader& in) {
  const auto extent = in.azimuth_extent("azimuth").value_or(std::pair{0.0, 0.0});
  return {.azimuth_from_deg = extent.first,
          .azimuth_to_deg = extent.second,
          .elevation_deg = in.value_or("elevation", 0),
          .months = in.months("months"),
          .blocks_share = in.value_or("blocks", 1)};
}

}  // namespace

void read_panel_label(Reading& reading, ObjectReader& in, Panel& panel) {
  panel.vmp_v = in.value("vmp");
  panel.imp_a = in.value("imp");
  panel.voc_v = in.value("voc");
  panel.isc_a = in.value("isc");
  read_power(reading, in, panel);
  resize_label(reading, in, panel);
  check_label(in, panel);
  panel.temp_coeff_power_pct_k = in.value("temp_coeff_power");
  panel.temp_coeff_voc_pct_k = in.value("temp_coeff_voc");
  panel.noct_c = in.value_or("noct", panel.noct_c);
}

void read_panel(Reading& reading, ObjectReader& root) {
  std::optional<ObjectReader> in = root.object("panel");
  if (!in) return;
  Panel& panel = reading.site.panel;
  panel.count = in->integer_or("count", panel.count);
  panel.series = in->integer_or("series", panel.series);
  if (panel.count % panel.series != 0) {
    in->problem("series", fmt::format("{} does not divide count, {}", panel.series, panel.count));
  }
  read_panel_label(reading, *in, panel);
  panel.losses_share = in->value_or("losses", panel.losses_share);
  read_direction(reading, *in);
  for (ObjectReader& obstacle : in->list("shade")) panel.shade.push_back(read_obstacle(obstacle));
}

}  // namespace amptally::io
