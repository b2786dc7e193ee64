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

// Lead-acid volts per cell while discharging at 25 deg C: Copetti, Lorenzo & Chenlo 1993, from
// memory. The paper's 4/(1 + I^1.3) takes I in A and was measured on batteries of some 100 Ah; here
// the current is scaled to 100 Ah, so that batteries of any size follow one curve.
double discharging_cell_v(double state_of_charge, double current_over_c10) {
  const double s = state_of_charge;
  const double scaled_a = 100 * current_over_c10;
  return 2.085 - 0.12 * (1 - s) -
         current_over_c10 * (4 / (1 + std::pow(scaled_a, 1.3)) + 0.27 / std::pow(s, 1.5) + 0.02);
}

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

double copetti_capacity_ratio(double current_over_i10) {
  return 1.67 / (1 + 0.67 * std::pow(current_over_i10, 0.9));
}

double ten_hour_current_a(const Battery& battery) {
  // C10 = C_rated / ratio(I_rated / I10), where I_rated = C_rated / rated_hours and I10 = C10 / 10:
  // both sides hold C10, so it is found by repeated substitution, which contracts fast.
  const double rated_ah = battery.bank_capacity_ah();
  double ten_hour_ah = rated_ah;
  if (!(rated_ah > 0)) return 0;
  constexpr int kMostSteps = 60;
  for (int i = 0; i < kMostSteps; ++i) {
    const double before_ah = ten_hour_ah;
    const double rated_over_i10 = rated_ah / battery.rated_hours / (ten_hour_ah / 10);
    ten_hour_ah = rated_ah / copetti_capacity_ratio(rated_over_i10);
    if (ten_hour_ah == before_ah) break;
  }
  return ten_hour_ah / 10;
}

double rate_factor(const Battery& battery, double current_a) {
  const double rated_a = battery.bank_capacity_ah() / battery.rated_hours;
  if (!(current_a > rated_a)) return 1;  // slower than rated: never above the printed capacity
  if (battery.peukert) return std::pow(rated_a / current_a, *battery.peukert - 1);
  if (!battery_type(battery.kind).is_lead_acid()) return 1;
  const double i10 = ten_hour_current_a(battery);
  return copetti_capacity_ratio(current_a / i10) / copetti_capacity_ratio(rated_a / i10);
}

double copetti_charge_efficiency(double state_of_charge, double current_over_i10) {
  return 1 - std::exp(kGassing / (current_over_i10 + kGassingOffset) * (state_of_charge - 1));
}

TaperOf<double> charge_taper(const Battery& battery) {
  const BatteryType& type = battery_type(battery.kind);
  if (!type.is_lead_acid()) {
    return {.gain_a = 0,
            .offset_a = 1,
            .tail = (1 - type.charge_efficiency_share) * kTaperTail,
            .bend = 0};
  }
  const double i10 = ten_hour_current_a(battery);
  const double most_d = kGassing * i10 / battery.bank_capacity_ah();  // however large the current
  // Far beyond the fit's range the bend must not turn the efficiency round.
  constexpr double kBend = 0.164;
  constexpr double kBendUpTo_d = 4.5;
  return {.gain_a = most_d / kTaperUnit,
          .offset_a = kGassingOffset * i10,
          .tail = kTaperTail,
          .bend = kBend * std::min(1.0, kBendUpTo_d / most_d) * kTaperUnit};
}

double state_of_charge_discharging(const Battery& battery, double bank_v, double current_a) {
  const BatteryType& type = battery_type(battery.kind);
  const double cell_v = bank_v / bank_cells(battery);
  if (!type.is_lead_acid()) return inverse_rest(type.rest_cell_v, cell_v);
  const double i10 = ten_hour_current_a(battery);
  if (!(i10 > 0)) return 0;
  // The voltage rises with the state of charge, so halving finds it.
  double low = 0;
  double high = 1;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    const bool above = discharging_cell_v(middle, current_a / (10 * i10)) >= cell_v;
    (above ? high : low) = middle;
  }
  return high;
}

double state_of_charge_charging(const Battery& battery, double bank_v) {
  const BatteryType& type = battery_type(battery.kind);
  const double cell_v = bank_v / bank_cells(battery);
  const double s =
      type.is_lead_acid() ? (cell_v - 2) / 0.16 : inverse_rest(type.rest_cell_v, cell_v);
  return std::clamp(s, 0.0, kFullestByVoltage);
}

}  // namespace amptally::inline v0_1
