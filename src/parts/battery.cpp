#include "amptally/battery.hpp"

#include <algorithm>
#include <cmath>

#include "parts/battery_taper.hpp"

namespace amptally::inline v0_1 {
namespace {

// Copetti, Lorenzo & Chenlo 1993: full charge is approached with this constant.
constexpr double kGassing = 20.73;
constexpr double kGassingOffset = 0.55;

// Chosen: a charging battery is never taken for fuller than this from its voltage alone.
constexpr double kFullestByVoltage = 0.95;

// How the voltage drop grows towards empty: over the charge left, which is never nothing here.
// Fitted with the type's two voltages, see discharging_voltage_v.
constexpr double kEmptyOffset = 0.08;

// What a bank's current does to the voltage of one of its cells.
class CellVoltage {
 public:
  CellVoltage(const Battery& battery, double current_a)
      : type_(battery_type(battery.kind)),
        over_tenth_(std::pow(10 * current_a / twenty_hour_capacity_ah(battery), type_.drop_power)) {
  }

  [[nodiscard]] double at(double charge_left) const {
    return interpolate(type_.rest_cell_v, charge_left) -
           over_tenth_ *
               (type_.drop_cell_v + type_.empty_drop_cell_v / (charge_left + kEmptyOffset));
  }

 private:
  const BatteryType& type_;
  double over_tenth_;
};

// State of charge at which a rising resting curve reaches `cell_v`.
double inverse_rest(Curve rest, double cell_v) {
  if (cell_v <= rest.front().second) return rest.front().first;
  for (std::size_t i = 1; i < rest.size(); ++i) {
    if (cell_v <= rest[i].second) {
      const double t = (cell_v - rest[i - 1].second) / (rest[i].second - rest[i - 1].second);
      return rest[i - 1].first + t * (rest[i].first - rest[i - 1].first);
    }
  }
  return rest.back().first;
}

}  // namespace

double interpolate(Curve curve, double x) {
  if (x <= curve.front().first) return curve.front().second;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    if (x <= curve[i].first) {
      const double t = (x - curve[i - 1].first) / (curve[i].first - curve[i - 1].first);
      return curve[i - 1].second + t * (curve[i].second - curve[i - 1].second);
    }
  }
  return curve.back().second;
}

int bank_cells(const Battery& battery) {
  const double cell_v = battery_type(battery.kind).cell_v;
  return std::max(1, static_cast<int>(std::lround(battery.voltage_v / cell_v))) * battery.series;
}

double charging_voltage_v(const Battery& battery) {
  return battery_type(battery.kind).charging_cell_v * bank_cells(battery);
}

double temperature_factor(const BatteryType& type, double temp_c) {
  const Curve curve = type.temp_capacity;
  if (temp_c >= curve.front().first) return std::min(1.0, interpolate(curve, temp_c));
  const double slope = (curve[1].second - curve[0].second) / (curve[1].first - curve[0].first);
  return std::max(0.0, curve[0].second + slope * (temp_c - curve[0].first));
}

double capacity_ratio(double current_over_i20) {
  return 1.2 / (1 + 0.2 * std::pow(current_over_i20, 0.65));
}

double capacity_ratio_at_hours(double hours) {
  // I/I20 = ratio x 20/hours holds the ratio on both sides: repeated substitution, which contracts
  // fast.
  double ratio = 1;
  constexpr int kMostSteps = 60;
  for (int i = 0; i < kMostSteps; ++i) {
    const double before = ratio;
    ratio = capacity_ratio(before * 20 / hours);
    if (ratio == before) break;
  }
  return ratio;
}

double twenty_hour_capacity_ah(const Battery& battery) {
  if (!battery_type(battery.kind).is_lead_acid()) return battery.bank_capacity_ah();
  return battery.bank_capacity_ah() / capacity_ratio_at_hours(battery.rated_hours);
}

double ten_hour_current_a(const Battery& battery) {
  return twenty_hour_capacity_ah(battery) * capacity_ratio_at_hours(10) / 10;
}

double rate_factor(const Battery& battery, double current_a) {
  const double rated_a = battery.bank_capacity_ah() / battery.rated_hours;
  if (!(current_a > rated_a)) return 1;  // slower than rated: never above the printed capacity
  if (battery.peukert) return std::pow(rated_a / current_a, *battery.peukert - 1);
  if (!battery_type(battery.kind).is_lead_acid()) return 1;
  const double i20 = twenty_hour_capacity_ah(battery) / 20;
  return capacity_ratio(current_a / i20) / capacity_ratio(rated_a / i20);
}

double copetti_charge_efficiency(double state_of_charge, double current_over_i10) {
  return 1 - std::exp(kGassing / (current_over_i10 + kGassingOffset) * (state_of_charge - 1));
}

TaperOf<double> charge_taper(const Battery& battery) {
  const BatteryType& type = battery_type(battery.kind);
  if (!type.is_lead_acid()) {
    return {.gain_a = 0,
            .offset_a = 1,
            .tail = 0,
            .bend = 0,
            .kept_share = type.charge_efficiency_share,
            .unfilled_ah = 0};
  }
  const double i10 = ten_hour_current_a(battery);
  const double most_d = kGassing * i10 / battery.bank_capacity_ah();  // however large the current
  // Far beyond the fit's range the bend must not turn the efficiency round.
  constexpr double kBend = 0.164;
  constexpr double kBendUpTo_d = 4.5;
  return {.gain_a = most_d / kTaperUnit,
          .offset_a = kGassingOffset * i10,
          .tail = kTaperTail,
          .bend = kBend * std::min(1.0, kBendUpTo_d / most_d) * kTaperUnit,
          .kept_share = type.charge_efficiency_share,
          .unfilled_ah = 0};
}

double discharging_voltage_v(const Battery& battery, double charge_left, double current_a) {
  return CellVoltage(battery, current_a).at(charge_left) * bank_cells(battery);
}

double charge_left_at_voltage(const Battery& battery, double bank_v, double current_a) {
  if (!(battery.bank_capacity_ah() > 0)) return 0;
  const double cell_v = bank_v / bank_cells(battery);
  const CellVoltage voltage(battery, current_a);
  if (voltage.at(0) >= cell_v) return 0;
  // The voltage rises with the charge left, so halving finds it.
  double low = 0;
  double high = 1;
  constexpr int kHalvings = 50;  // to the last digits
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (voltage.at(middle) >= cell_v ? high : low) = middle;
  }
  return high;
}

double charge_held_at_voltage(const Battery& battery, double bank_v) {
  const BatteryType& type = battery_type(battery.kind);
  const double cell_v = bank_v / bank_cells(battery);
  const double s =
      type.is_lead_acid() ? (cell_v - 2) / 0.16 : inverse_rest(type.rest_cell_v, cell_v);
  return std::clamp(s, 0.0, 1.0);
}

double state_of_charge_charging(const Battery& battery, double bank_v) {
  return std::min(charge_held_at_voltage(battery, bank_v), kFullestByVoltage);
}

}  // namespace amptally::inline v0_1
