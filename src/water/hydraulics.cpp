#include "amptally/hydraulics.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "text/message_text.hpp"
#include "water/least_flow.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr double kGravity_m_s2 = 9.80665;  // standard acceleration, 3rd CGPM (1901), exact
constexpr double kLitresPerM3 = 1000;
constexpr double kSecondsPerHour = 3600;
constexpr double kMmPerM = 1000;

constexpr double kLaminarTo = 2000;
constexpr double kTurbulentFrom = 4000;
// Blasius is fitted up to here; Haaland differs by 0.2 % there and lies above it from there on.
constexpr double kBlasiusTo = 1e5;

// MWH, Water Treatment, 3rd ed. 2012, Table C-1: deg C, 1e-6 m2/s.
constexpr std::array<std::pair<double, double>, 10> kViscosity_mm2_s = {{{0, 1.785},
                                                                         {5, 1.519},
                                                                         {10, 1.306},
                                                                         {15, 1.139},
                                                                         {20, 1.003},
                                                                         {25, 0.893},
                                                                         {30, 0.800},
                                                                         {40, 0.658},
                                                                         {50, 0.553},
                                                                         {60, 0.474}}};

double velocity_head_m(double velocity) { return velocity * velocity / (2 * kGravity_m_s2); }

double blasius(double reynolds) { return 0.3164 / std::sqrt(std::sqrt(reynolds)); }

double haaland_smooth(double reynolds) {
  const double inverse_root = -1.8 * std::log10(6.9 / reynolds);
  return 1 / (inverse_root * inverse_root);
}

// A tube's loss at many flows of one viscosity: what does not change with the flow is worked out
// once.
class TubeLoss {
 public:
  TubeLoss(const Tube& tube, double viscosity_m2_s)
      : reynolds_of_l_h_(reynolds_number(1, tube.bore_mm, viscosity_m2_s)),
        bores_(tube.length_m / (tube.bore_mm / kMmPerM)),
        velocity_head_of_l2_h2_(velocity_head_m(velocity_m_s(1, tube.bore_mm))) {}

  [[nodiscard]] double at(double flow_l_h) const {
    if (flow_l_h <= 0) return 0;
    return darcy_friction(reynolds_of_l_h_ * flow_l_h) * bores_ * velocity_head_of_l2_h2_ *
           flow_l_h * flow_l_h;
  }

 private:
  double reynolds_of_l_h_;
  double bores_;  // lengths of its bore in the tube
  double velocity_head_of_l2_h2_;
};

// The line at one trial: `x` is the head at the last outlet, m, or the flow of an open end, L/h.
struct Trial {
  double flow_l_h = 0;
  double tube_loss_m = 0;
  double entrance_loss_m = 0;
  double last_outlet_m = 0;

  [[nodiscard]] double needed_m(double lift_m) const {
    return lift_m + last_outlet_m + tube_loss_m + entrance_loss_m;
  }
};

double entrance_loss_m(const WaterLine& line, double flow_l_h, double coefficient) {
  if (!line.tube) return 0;
  return coefficient * velocity_head_m(velocity_m_s(flow_l_h, line.tube->bore_mm));
}

Trial open_end(const WaterLine& line, double flow_l_h, double viscosity_m2_s) {
  return {.flow_l_h = flow_l_h,
          .tube_loss_m = line.tube ? tube_loss_m(*line.tube, flow_l_h, viscosity_m2_s) : 0,
          .entrance_loss_m = entrance_loss_m(line, flow_l_h, kSharpEntrance + kOpenEnd)};
}

// Follows the line from the last outlet that gets water, the `fed`th, back to the pump;
// `outlets_l_h`, where wanted, gets their flows in that order.
Trial with_outlets(const WaterLine& line, int fed, double last_m, double viscosity_m2_s,
                   std::vector<double>* outlets_l_h = nullptr) {
  const Outlets& outlets = *line.outlets;
  std::optional<TubeLoss> spacing;
  if (line.tube)
    spacing.emplace(Tube{line.tube->length_m / outlets.count, line.tube->bore_mm}, viscosity_m2_s);
  Trial trial{.last_outlet_m = last_m};
  for (int i = 0; i < fed; ++i) {
    const double outlet_l_h = outlet_flow_l_h(outlets, last_m + trial.tube_loss_m);
    if (outlets_l_h != nullptr) outlets_l_h->push_back(outlet_l_h);
    trial.flow_l_h += outlet_l_h;
    if (spacing) trial.tube_loss_m += spacing->at(trial.flow_l_h);
  }
  trial.entrance_loss_m = entrance_loss_m(line, trial.flow_l_h, kSharpEntrance);
  return trial;
}

double drive_head_m(const WaterLine& line, Drive drive, double flow_l_h) {
  if (!line.pump) return 0;
  return drive == Drive::pump ? pump_head_m(*line.pump, flow_l_h)
                              : -standing_pump_loss_m(*line.pump, flow_l_h);
}

// Where `spare`, which falls and is not negative at `low`, comes to 0.
// Method: Ridders 1979, IEEE Trans. Circuits and Systems 26, 979: the root stays between two ends,
// which halve at least and mostly close in much faster.
// @param high  a first guess above `low`
template <class Spare>
double falling_root(double low, double high, Spare spare) {
  double at_low = spare(low);
  double at_high = spare(high);
  while (at_high > 0) {
    low = std::exchange(high, 2 * high);
    at_low = std::exchange(at_high, spare(high));
  }
  // Many outlets on a long thin line: what it would take can be more than a double
  // holds, infinite or, by a friction of nothing, not even that.
  while (!std::isfinite(at_high)) {
    const double middle = low + (high - low) / 2;
    const double at_middle = spare(middle);
    (at_middle >= 0 ? low : high) = middle;
    (at_middle >= 0 ? at_low : at_high) = at_middle;
  }
  double root = at_high < 0 ? low : high;
  constexpr double kClose = 1e-12;  // of the root; the steps before it were far longer
  // A steep fall puts one root after the other on `low`: close to each other, not to the root.
  const double hardly_any = 1e-9 * at_low;
  // Halvings alone, as where the head that is missing grows by a high power, need a step for each
  // bit of a double and of the way down to hardly anything.
  constexpr int kMostSteps = 200;
  for (int i = 0; i < kMostSteps && at_low > 0 && at_high < 0; ++i) {
    const double middle = low + (high - low) / 2;
    const double at_middle = spare(middle);
    const double before =
        std::exchange(root, middle + (middle - low) * at_middle /
                                         std::sqrt(at_middle * at_middle - at_low * at_high));
    const double at_root = spare(root);
    const bool close = std::abs(root - before) <= kClose * root;
    if (at_root == 0 || (close && std::abs(at_root) <= hardly_any)) return root;
    const auto narrow = [&](double x, double at_x) {
      if (x <= low || x >= high) return;
      (at_x >= 0 ? low : high) = x;
      (at_x >= 0 ? at_low : at_high) = at_x;
    };
    narrow(middle, at_middle);
    narrow(root, at_root);
  }
  return root;
}

// Chosen: with less head than this an outlet counts as dry. At the end of a long thin line the head
// can fall below anything a double can tell from nothing.
constexpr double kHardlyAny_m = 1e-9;

// The most outlets, counted from the pump, that all get water. @param feeds  false from some count
// on
template <class Feeds>
int outlets_fed(int count, Feeds feeds) {
  int fed = 0;
  int too_many = count + 1;
  if (feeds(count)) return count;
  while (too_many - fed > 1) {
    const int middle = fed + (too_many - fed) / 2;
    (feeds(middle) ? fed : too_many) = middle;
  }
  return fed;
}

// Fills in all but the outlets.
void describe(const WaterLine& line, Drive drive, double lift_m, double viscosity_m2_s,
              const Trial& trial, LineFlow& found) {
  found.flow_l_h = trial.flow_l_h;
  found.head_m = drive_head_m(line, drive, trial.flow_l_h);
  found.lift_m = lift_m;
  found.tube_loss_m = trial.tube_loss_m;
  found.entrance_loss_m = trial.entrance_loss_m;
  found.last_outlet_m = trial.last_outlet_m;
  if (!line.tube) return;
  found.velocity_m_s = velocity_m_s(trial.flow_l_h, line.tube->bore_mm);
  found.reynolds = reynolds_number(trial.flow_l_h, line.tube->bore_mm, viscosity_m2_s);
  found.regime = flow_regime(found.reynolds);
}

[[noreturn]] void too_weak(const WaterLine& line, Drive drive, double lift_m, double lacking_m) {
  const bool pumped = drive == Drive::pump && line.pump;
  const std::string lack = lacking_m > 0
                               ? fmt::format("it lacks more than {:.2g} m of head", lacking_m)
                               : "the lift takes all of it";
  throw ModelError(fmt::format(
      "water line {}: {} cannot bring water to the outlets, {:g} m {} the water: {} (give a "
      "stronger pump, a smaller lift or a wider tube)",
      in_quotes(line.name),
      pumped ? fmt::format("the pump's {:g} m of head", line.pump->head_m) : "it has no pump and",
      std::abs(lift_m), lift_m < 0 ? "below" : "above", lack));
}

[[noreturn]] void too_thin(const WaterLine& line) {
  throw ModelError(
      fmt::format("water line {}: hardly a drop comes through, less than {:f} L/h (give "
                  "a wider tube or a stronger pump)",
                  in_quotes(line.name), kHardlyAny_l_h));
}

}  // namespace

double water_viscosity_m2_s(double temp_c) {
  assert(temp_c >= kViscosity_mm2_s.front().first && temp_c <= kViscosity_mm2_s.back().first);
  const auto above = std::find_if(kViscosity_mm2_s.begin() + 1, kViscosity_mm2_s.end() - 1,
                                  [&](const auto& row) { return row.first >= temp_c; });
  const auto& [t0, v0] = *(above - 1);
  const auto& [t1, v1] = *above;
  return 1e-6 * (v0 + (v1 - v0) * (temp_c - t0) / (t1 - t0));
}

double velocity_m_s(double flow_l_h, double bore_mm) {
  const double bore_m = bore_mm / kMmPerM;
  const double area_m2 = std::numbers::pi / 4 * bore_m * bore_m;
  return flow_l_h / kLitresPerM3 / kSecondsPerHour / area_m2;
}

double reynolds_number(double flow_l_h, double bore_mm, double viscosity_m2_s) {
  return velocity_m_s(flow_l_h, bore_mm) * bore_mm / kMmPerM / viscosity_m2_s;
}

FlowRegime flow_regime(double reynolds) {
  if (reynolds <= kLaminarTo) return FlowRegime::laminar;
  return reynolds < kTurbulentFrom ? FlowRegime::between : FlowRegime::turbulent;
}

double darcy_friction(double reynolds) {
  if (reynolds <= kLaminarTo) return 64 / reynolds;
  if (reynolds >= kBlasiusTo) return haaland_smooth(reynolds);
  if (reynolds >= kTurbulentFrom) return blasius(reynolds);
  const double from = 64 / kLaminarTo;
  const double to = blasius(kTurbulentFrom);
  return from + (to - from) * (reynolds - kLaminarTo) / (kTurbulentFrom - kLaminarTo);
}

double tube_loss_m(const Tube& tube, double flow_l_h, double viscosity_m2_s) {
  return TubeLoss(tube, viscosity_m2_s).at(flow_l_h);
}

double pump_head_m(const WaterPump& pump, double flow_l_h) {
  const double share = flow_l_h / pump.flow_l_h;
  return pump.head_m * (1 - share * share);
}

double standing_pump_loss_m(const WaterPump& pump, double flow_l_h) {
  return pump.head_m - pump_head_m(pump, flow_l_h);
}

double outlet_flow_l_h(const Outlets& outlets, double head_m) {
  if (head_m <= 0) return 0;
  const double share = head_m / outlets.at_m;
  // Most outlets are holes, and a root is had more cheaply than a power.
  return outlets.flow_l_h *
         (outlets.exponent == 0.5 ? std::sqrt(share) : std::pow(share, outlets.exponent));
}

double LineFlow::unevenness() const {
  const auto [least, most] = std::minmax_element(outlets_l_h.begin(), outlets_l_h.end());
  const double mean = std::accumulate(outlets_l_h.begin(), outlets_l_h.end(), 0.0) /
                      static_cast<double>(outlets_l_h.size());
  return mean > 0 ? (*most - *least) / mean : 0;
}

int LineFlow::dry_outlets() const {
  return static_cast<int>(std::count(outlets_l_h.begin(), outlets_l_h.end(), 0.0));
}

bool reaches(const WaterLine& line, double lift_m, Drive drive) {
  return drive_head_m(line, drive, 0) > lift_m;
}

LineFlow line_flow(const WaterLine& line, double lift_m, Drive drive, double viscosity_m2_s) {
  if (!line.tube && !line.outlets && !(drive == Drive::pump && line.pump)) {
    throw InputError("water.lines", fmt::format("line {} has no pump, tube or outlets: nothing "
                                                "sets its flow (give a tube)",
                                                in_quotes(line.name)));
  }
  const double available_m = drive_head_m(line, drive, 0) - lift_m;
  if (!reaches(line, lift_m, drive)) too_weak(line, drive, lift_m, -available_m);
  const auto spare_m = [&](const Trial& trial) {
    return drive_head_m(line, drive, trial.flow_l_h) - trial.needed_m(lift_m);
  };

  LineFlow found;
  Trial trial;
  if (line.outlets) {
    const auto trial_at = [&](int fed, double last_m) {
      return with_outlets(line, fed, last_m, viscosity_m2_s);
    };
    const int fed = outlets_fed(line.outlets->count, [&](int count) {
      return spare_m(trial_at(count, kHardlyAny_m)) >= 0;
    });
    if (fed == 0) too_weak(line, drive, lift_m, -spare_m(trial_at(1, kHardlyAny_m)));
    const double last_m = falling_root(kHardlyAny_m, available_m,
                                       [&](double x) { return spare_m(trial_at(fed, x)); });
    trial = with_outlets(line, fed, last_m, viscosity_m2_s, &found.outlets_l_h);
    std::reverse(found.outlets_l_h.begin(), found.outlets_l_h.end());
    found.outlets_l_h.resize(static_cast<std::size_t>(line.outlets->count), 0.0);
  } else {
    const auto trial_at = [&](double flow_l_h) { return open_end(line, flow_l_h, viscosity_m2_s); };
    trial = trial_at(falling_root(0.0, 1.0, [&](double x) { return spare_m(trial_at(x)); }));
    found.outlets_l_h = {trial.flow_l_h};
  }
  if (drive == Drive::pump && trial.flow_l_h < kHardlyAny_l_h) too_thin(line);
  describe(line, drive, lift_m, viscosity_m2_s, trial, found);
  return found;
}

}  // namespace amptally::inline v0_1
