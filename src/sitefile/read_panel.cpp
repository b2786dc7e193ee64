#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "amptally/panel.hpp"

#include "sitefile/section_readers.hpp"

namespace amptally::io {

namespace {

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
  panel.tilt_deg = in.value_or("tilt", usual_tilt_deg(latitude_deg));
  panel.azimuth_deg = in.value_or("azimuth", usual_azimuth_deg(latitude_deg));
  if (!in.has("tilt")) {
    reading.assume(
        AssumptionKind::panel,
        fmt::format("Panel tilt not given: {:g} deg taken, about the latitude.", panel.tilt_deg));
  }
  if (!in.has("azimuth")) {
    reading.assume(AssumptionKind::panel,
                   fmt::format("Panel azimuth not given: facing the equator ({}, {:g}°) taken.",
                               latitude_deg < 0 ? "north" : "south", panel.azimuth_deg));
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
  note_wrong(in, panel, check_label);
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
  note_wrong(*in, panel, check_strings);
  read_panel_label(reading, *in, panel);
  panel.losses_share = in->value_or("losses", panel.losses_share);
  read_direction(reading, *in);
  for (ObjectReader& obstacle : in->list("shade")) panel.shade.push_back(read_obstacle(obstacle));
}

}  // namespace amptally::io
