// Water and wire against the examples and tables of the reference folder, read at run time: what is
// printed there, or worked out there with textbook formulas (said for each).

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "amptally/cable.hpp"
#include "amptally/hydraulics.hpp"
#include "amptally/water.hpp"

#include "catch.hpp"
#include "published/reference_files.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using nlohmann::json;

namespace {

constexpr double kMetresPerFoot = 0.3048;
constexpr double kLitresPerUsGallon = 3.785411784;
constexpr double kLitresPerCubicFoot = 28.316846592;

/// A worked example of water or wire; nothing where there is no reference folder, which is said.
std::optional<json> example(const std::string& id) {
  auto file = published::reference_file("worked_examples_water.json");
  if (!file) return std::nullopt;
  for (const json& one : json::parse(*file)) {
    if (one["id"] == id) return one;
  }
  throw std::runtime_error("no example " + id);
}

double input(const json& one, const char* name) { return one["inputs"][name].get<double>(); }
double output(const json& one, const char* name) { return one["outputs"][name].get<double>(); }
double tolerance(const json& one) { return one["rel_tol"].get<double>(); }

using Row = std::map<std::string, std::string>;

/// Rows of a table by the names in its head, which follows the lines of remarks.
std::vector<Row> rows_of(std::istream& file) {
  const auto cells = [](const std::string& line) {
    std::vector<std::string> found;
    std::istringstream in(line);
    for (std::string cell; std::getline(in, cell, ',');) found.push_back(cell);
    return found;
  };
  std::vector<std::string> head;
  std::vector<Row> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    const std::vector<std::string> row = cells(line);
    if (head.empty()) {
      head = row;
      continue;
    }
    Row named;
    for (std::size_t i = 0; i < std::min(head.size(), row.size()); ++i) named[head[i]] = row[i];
    rows.push_back(named);
  }
  return rows;
}

double figure(const Row& row, const std::string& name) { return std::stod(row.at(name)); }

WaterLine tube_line(double length_m, double bore_mm) {
  return {.name = "tube", .tube = Tube{.length_m = length_m, .bore_mm = bore_mm}};
}

}  // namespace

TEST_CASE("friction past even outlets is Christiansen's share of the tube's",
          "[hydraulics][recomputed][reference]") {
  // The exact sum for friction as flow^1.75 (Blasius) needs no source; the formula of Christiansen
  // 1942 beside it is from memory, as the file says. Every piece of the tube must be in Blasius'
  // range: the last at Re 4,200, so that up to 20 outlets the first stays below 1e5.
  auto file = published::reference_file("christiansen_F.csv");
  if (!file) return;
  int compared = 0;
  for (const Row& row : rows_of(*file)) {
    const int count = static_cast<int>(figure(row, "N"));
    if (count > 20) continue;
    const double viscosity = 1e-6;
    const double each_l_h = 4200 / reynolds_number(1, 9, viscosity);
    WaterLine line = tube_line(30, 9);
    line.pump = WaterPump{.flow_l_h = 1e5, .head_m = 1000};
    line.outlets = Outlets{.count = count, .flow_l_h = each_l_h, .at_m = 1, .exponent = 0};
    const double share = line_flow(line, 0, Drive::pump, viscosity).tube_loss_m /
                         tube_loss_m(*line.tube, count * each_l_h, viscosity);
    CAPTURE(count);
    CHECK_THAT(share, WithinAbs(figure(row, "F_1.75_exact"), 0.00005));
    CHECK_THAT(share, WithinAbs(figure(row, "F_1.75_formula"), count == 1 ? 0.009 : 0.0011));
    ++compared;
  }
  CHECK(compared == 11);
}

TEST_CASE("head loss in small tubes is that of the textbook forms",
          "[hydraulics][recomputed][reference]") {
  // Worked out there: smooth tubes, water of 20 deg C, 1.003e-6 m2/s, m of head to the metre; its
  // digits are the tolerance. Its laminar rows go up to Re 2300; from 2000 on ours lie between the
  // two forms, as in the rows of transition.
  auto file = published::reference_file("head_loss_small_tube.csv");
  if (!file) return;
  const double viscosity = water_viscosity_m2_s(20);
  int compared = 0;
  for (const Row& row : rows_of(*file)) {
    const double bore_mm = figure(row, "D_mm");
    const double flow_l_h = figure(row, "Q_L_per_h");
    CAPTURE(bore_mm, flow_l_h);
    CHECK_THAT(velocity_m_s(flow_l_h, bore_mm), WithinAbs(figure(row, "V_m_s"), 0.00005));
    const double reynolds = reynolds_number(flow_l_h, bore_mm, viscosity);
    CHECK_THAT(reynolds, WithinAbs(figure(row, "Re"), 0.51));
    const double loss_m = tube_loss_m({1, bore_mm}, flow_l_h, viscosity);
    const double laminar_m = figure(row, "h_laminar");
    const double blasius_m = figure(row, "h_blasius");
    if (row.at("regime") == "blasius") {
      CHECK_THAT(loss_m, WithinAbs(blasius_m, 0.0000051));
      CHECK_THAT(loss_m, WithinRel(figure(row, "h_colebrook_smooth"), 0.035));
    } else if (reynolds <= 2000) {
      CHECK_THAT(loss_m, WithinAbs(laminar_m, 0.0000051));
    } else {
      CHECK(loss_m > laminar_m);
      CHECK(loss_m < blasius_m);
    }
    ++compared;
  }
  CHECK(compared == 30);
}

TEST_CASE("a loss where the flow bends or ends is K velocity heads",
          "[hydraulics][printed-outside][reference]") {
  // H6, printed: K 5.5 at 2 m/s loses 1.1 m (1.121 unrounded). Ours are 0.5 at the entrance and 1
  // at the open end, together 1.5 of the same.
  const auto one = example("H6");
  if (!one) return;
  const LineFlow flow = line_flow(tube_line(0.5, 20), -1, Drive::gravity, 1e-6);
  const double at_speed_m =
      flow.entrance_loss_m * std::pow(input(*one, "V") / flow.velocity_m_s, 2);
  CHECK_THAT(at_speed_m / (kSharpEntrance + kOpenEnd) * input(*one, "K"),
             WithinRel(output(*one, "h"), tolerance(*one)));
}

TEST_CASE("a reservoir's pipe passes more without its fittings than a handbook has with them",
          "[hydraulics][printed-outside][reference]") {
  // H7, Crane TP-410 example 7.19, printed, at second hand: 11.5 ft of head through 10 ft of 3 in
  // and 20 ft of 2 in steel pipe (52.5 mm inside), a mitre bend, a gate valve and the contraction
  // pass 137 gal/min. Ours knows one smooth tube and no fittings: 4.3 velocity heads are spent
  // there, of which the smooth 2 in pipe and its ends are 3.3, so that it must pass about a tenth
  // more.
  const auto one = example("H7");
  if (!one) return;
  const double printed_l_h = output(*one, "Q_gpm") * kLitresPerUsGallon * 60;
  const double head_m = input(*one, "head_ft") * kMetresPerFoot;
  const double ours_l_h = line_flow(tube_line(20 * kMetresPerFoot, 52.5), -head_m, Drive::gravity,
                                    water_viscosity_m2_s(15.6))
                              .flow_l_h;
  CHECK(ours_l_h > printed_l_h);
  CHECK(ours_l_h < 1.2 * printed_l_h);
}

TEST_CASE("the printed point of a pump and its line is where ours meet",
          "[hydraulics][printed-outside][reference]") {
  // P2, printed: the pump 60 - 0.8 Q and the line 20 + 0.5 Q^2 meet at 8.18 and 53.46. Our pumps
  // are parabolas: the one that has 60 m at no flow and passes the printed point must meet the line
  // there.
  const auto one = example("P2");
  if (!one) return;
  const double flow = output(*one, "Q");
  const double head_m = output(*one, "H");
  const WaterLine line{
      .name = "problem",
      .pump = WaterPump{.flow_l_h = flow / std::sqrt(1 - head_m / 60), .head_m = 60},
      .outlets = Outlets{.count = 1, .flow_l_h = 1, .at_m = 0.5}};
  const LineFlow found = line_flow(line, 20, Drive::pump, 1e-6);
  CHECK_THAT(found.flow_l_h, WithinRel(flow, tolerance(*one)));
  CHECK_THAT(found.head_m, WithinRel(head_m, tolerance(*one)));
}

TEST_CASE("friction in a textbook's pipe is ours but for its roughness",
          "[hydraulics][recomputed][reference]") {
  // H2, Cengel & Cimbala, Example 8-3: inputs read, outputs from memory and worked out again there.
  // A smooth wall is 2 % below theirs of 7e-6 ft.
  const auto one = example("H2");
  if (!one) return;
  const double bore_mm = input(*one, "D_in") * 25.4;
  const double flow_l_h = input(*one, "Q_ft3s") * kLitresPerCubicFoot * 3600;
  const double viscosity_m2_s =
      input(*one, "mu") / input(*one, "rho") * kMetresPerFoot * kMetresPerFoot;
  CHECK_THAT(darcy_friction(reynolds_number(flow_l_h, bore_mm, viscosity_m2_s)),
             WithinRel(output(*one, "f"), 0.03));
  CHECK_THAT(tube_loss_m({input(*one, "L_ft") * kMetresPerFoot, bore_mm}, flow_l_h, viscosity_m2_s),
             WithinRel(output(*one, "hL_ft") * kMetresPerFoot, 0.03));
}

TEST_CASE("siphons of textbooks run as fast as ours", "[water][recomputed][reference]") {
  const auto frictionless_m_s = [](double fall_m) {
    // Next to no friction; ours has an entrance, too.
    return line_flow(tube_line(0.001, 10), -fall_m, Drive::gravity, 1e-9).velocity_m_s *
           std::sqrt(1 + kSharpEntrance);
  };
  // S2, printed: 1 m of fall without friction is 4.43 m/s.
  const auto exam = example("S2");
  if (!exam) return;
  CHECK_THAT(frictionless_m_s(input(*exam, "h")), WithinRel(output(*exam, "V"), tolerance(*exam)));
  // S5, Cengel & Cimbala, Example 5-7: inputs read, outputs from memory and worked out again there:
  // 4 L of petrol through 5 mm in 53.1 s.
  const auto petrol = *example("S5");
  const double velocity = frictionless_m_s(input(petrol, "z1"));
  CHECK_THAT(velocity, WithinRel(output(petrol, "V"), tolerance(petrol)));
  const double bore_m = input(petrol, "D_mm") / 1000;
  const double litres_s = velocity * std::numbers::pi / 4 * bore_m * bore_m * 1000;
  CHECK_THAT(input(petrol, "V_L") / litres_s, WithinRel(output(petrol, "t_s"), tolerance(petrol)));
  // S4, White, after Example 3.14, worked out there: 5.4 velocity heads beside the speed's own.
  // Ours have 0.5 at the entrance; the rest is asked of 2 m of tube, by a viscosity at which
  // Blasius gives it.
  const auto white = *example("S4");
  const double bore_mm = input(white, "D") * 1000;
  const double friction = (input(white, "K_total") - kSharpEntrance) * input(white, "D") / 2;
  const double viscosity_m2_s =
      output(white, "V") * input(white, "D") / std::pow(0.3164 / friction, 4);
  const LineFlow flow =
      line_flow(tube_line(2, bore_mm), -input(white, "dz"), Drive::gravity, viscosity_m2_s);
  CHECK_THAT(flow.velocity_m_s, WithinRel(output(white, "V"), tolerance(white)));
  CHECK_THAT(flow.flow_l_h, WithinRel(output(white, "Q_cm3s") * 3.6, tolerance(white)));
}

TEST_CASE("a roof catches what it does, not what a page misprints",
          "[water][recomputed][reference]") {
  // R4, printed: 100.1 m2, 600 mm and 0.8 are 48,112 L there; they are 48,048.
  const auto one = example("R4");
  if (!one) return;
  CHECK_THAT(roof_catch_l(input(*one, "P_mm"), input(*one, "A"), input(*one, "C")),
             WithinRel(output(*one, "L_true"), 1e-12));
}

TEST_CASE("a rule of thumb for copper's drop lies below the standard's",
          "[wiring][common-practice][reference]") {
  // W6, printed: volts lost = 0.0164 I L / S over the whole loop, 5 % below pure copper's 0.017241
  // (as the reference says). Flexible conductors may have up to 20 % more, by IEC 60228.
  const auto one = example("W6");
  if (!one) return;
  REQUIRE(one->at("inputs").at("formula") == "E=0.0164*I*L_total/S");
  for (const Conductor& conductor : conductors()) {
    if (conductor.standard != ConductorStandard::iec) continue;
    const double ours_v =
        drop_v({.current_a = 3, .length_m = 10, .voltage_v = 12, .max_drop_share = 1},
               resistance_ohm_m(conductor, 20));
    const double rule_v = 0.0164 * 3 * 20 / conductor.section_mm2;
    CAPTURE(conductor.size);
    CHECK(ours_v > 1.05 * rule_v);
    CHECK(ours_v < 1.25 * rule_v);
  }
}
