#include <optional>
#include <variant>

#include <fmt/format.h>

#include "amptally/water.hpp"

#include "sitefile/hint.hpp"
#include "sitefile/section_readers.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

/// Share of the rain on a hard roof that reaches the barrel. Common practice, no source.
constexpr double kUsualRunoff_share = 0.8;

Tank read_tank(Reading& reading, ObjectReader& in) {
  Tank tank;
  tank.volume_l = in.value_or("volume", 0);
  tank.level_m = in.value("level");
  tank.outlet_height_m = in.value("outlet_height");
  tank.roof_m2 = in.value("roof");
  tank.runoff_share = in.value("runoff");
  if (tank.roof_m2 && !in.has("runoff")) {
    tank.runoff_share = kUsualRunoff_share;
    reading.assume(AssumptionKind::water,
                   fmt::format("Roof runoff not given: {:g} % of the rain taken to reach the tank.",
                               100 * kUsualRunoff_share));
  }
  note_wrong(in, tank, check_heights);
  if (const std::optional<Monthly> refill = in.monthly("refill")) {
    tank.refill_l_month.assign(refill->begin(), refill->end());
  }
  return tank;
}

std::optional<WaterPump> read_pump(ObjectReader& line) {
  std::optional<ObjectReader> in = line.object("pump");
  if (!in) return std::nullopt;
  const double flow_l_h = in->value_or("flow", 0);
  return WaterPump{.flow_l_h = flow_l_h, .head_m = in->value_or("head", 0)};
}

std::optional<Tube> read_tube(ObjectReader& line) {
  std::optional<ObjectReader> in = line.object("tube");
  if (!in) return std::nullopt;
  const double length_m = in->value_or("length", 0);
  return Tube{.length_m = length_m, .bore_mm = in->value_or("bore", 0)};
}

std::optional<Outlets> read_outlets(ObjectReader& line) {
  std::optional<ObjectReader> in = line.object("outlets");
  if (!in) return std::nullopt;
  Outlets outlets{};
  outlets.count = in->integer_or("count", 1);
  outlets.flow_l_h = in->value_or("flow", 0);
  outlets.at_m = in->value_or("at", 0);
  outlets.exponent = in->value_or("exponent", 0.5);
  outlets.height_m = in->value_or("height", 0);
  return outlets;
}

using Demand = std::variant<PlantDemand, CropDemand, DailyVolume>;

void require_known_crop(ObjectReader& in, const std::string& name) {
  if (name.empty() || find_crop(name) != nullptr) return;
  std::vector<std::string_view> names;
  for (const Crop& crop : crops()) names.push_back(crop.name);
  in.problem("crop",
             fmt::format("{} is not a crop of the list{}", in_quotes(name),
                         hint(near_miss(name, names), fmt::format("{}", fmt::join(names, ", ")))));
}

std::optional<Demand> read_demand_object(ObjectReader& line) {
  std::optional<ObjectReader> in = line.object("demand");
  const bool by_plants = in->has("plants") || in->has("each");
  const bool by_area = in->has("area") || in->has("crop");
  // All four are read before it is known which two are wanted, so that what is wrong with any of
  // them is told.
  const int plants = in->integer_or("plants", 0);
  const double each_l = in->value_or("each", 0);
  const double area_m2 = in->value_or("area", 0);
  std::string crop = in->text("crop");
  require_known_crop(*in, crop);
  const auto require = [&](std::string_view name, std::string_view partner) {
    if (!in->has(name)) in->problem(name, fmt::format("is missing (it goes with {})", partner));
  };
  if (by_plants == by_area) {
    line.problem("demand", "is either plants and each, or area and crop");
    return std::nullopt;
  }
  if (by_plants) {
    require("plants", "each");
    require("each", "plants");
    return PlantDemand{.plants = plants, .each_l = each_l};
  }
  require("area", "crop");
  require("crop", "area");
  return CropDemand{.area_m2 = area_m2, .crop = std::move(crop)};
}

std::optional<Demand> read_demand(Reading& reading, ObjectReader& line) {
  const Node* node = line.member("demand");
  if (node == nullptr) return std::nullopt;
  if (node->kind == Node::Kind::object) return read_demand_object(line);
  const std::size_t rough_before = reading.site.rough.size();
  const std::optional<Quantity> given = line.quantity("demand");
  if (!given) return std::nullopt;
  if (given->dimension == Dimension::volume) return DailyVolume{given->middle};
  // "6 L/day" reads as a flow; the day's volume is 24 hours of it.
  for (std::size_t i = rough_before; i < reading.site.rough.size(); ++i) {
    RoughInput& rough = reading.site.rough[i];
    rough = {rough.field, 24 * rough.low, 24 * rough.high, "L"};
  }
  return DailyVolume{24 * given->middle};
}

WaterLine read_line(Reading& reading, ObjectReader& in) {
  WaterLine line;
  line.name = in.text("name");
  require_new_name(in, line.name, reading.site.water->lines, "line");
  line.pump = read_pump(in);
  line.lift_m = in.value_or("lift", line.lift_m);
  line.tube = read_tube(in);
  line.outlets = read_outlets(in);
  line.demand = read_demand(reading, in);
  line.valve = in.choice<SiphonValve>("valve").value_or(line.valve);
  return line;
}

}  // namespace

void read_water(Reading& reading, ObjectReader& root) {
  std::optional<ObjectReader> in = root.object("water");
  if (!in) return;
  reading.site.water.emplace();
  if (std::optional<ObjectReader> tank = in->object("tank")) {
    reading.site.water->tank = read_tank(reading, *tank);
  }
  for (ObjectReader& line : in->list("lines")) {
    reading.site.water->lines.push_back(read_line(reading, line));
  }
}

}  // namespace amptally::io
