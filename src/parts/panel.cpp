#include "amptally/panel.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace amptally::inline v0_1 {
namespace {

// Common practice, no source: what the label of a usual crystalline silicon panel says per 36
// cells, and the ratios between its figures.
constexpr double kVmpPer36Cells_v = 17.6;
constexpr double kVocPer36Cells_v = 21.8;
constexpr double kVmpOverVoc = 0.81;
constexpr double kIscOverImp = 1.06;
constexpr double kTempCoeffPower_pct_k = -0.43;
constexpr double kTempCoeffVoc_pct_k = -0.33;

// Common practice, no source: the current of silicon grows by about 0.05 % a kelvin.
constexpr double kTempCoeffIsc_k = 0.0005;

// Flattest panel taken unasked: rain washes it. Common practice, no source.
constexpr double kFlattestTilt_deg = 10;

constexpr double kZeroCelsius_k = 273.15;

// The label's maximum is left a hair below its corners, where the curve has no finite fit.
constexpr double kLargestRatio = 0.999;

bool has_voltage(const Panel& panel) { return panel.vmp_v || panel.voc_v; }

double derived_vmp_v(const Panel& panel, double system_v, std::vector<Assumption>& said) {
  if (panel.vmp_v) return *panel.vmp_v;
  if (panel.imp_a && *panel.imp_a > 0 && panel.power_w > 0) {
    const double vmp = panel.power_w / *panel.imp_a;
    said.push_back(
        {AssumptionKind::panel,
         fmt::format("Panel voltage at full power (vmp) not given: {:.1f} V taken, power over imp.",
                     vmp)});
    return vmp;
  }
  if (panel.voc_v) {
    const double vmp = kVmpOverVoc * *panel.voc_v;
    said.push_back(
        {AssumptionKind::panel,
         fmt::format("Panel voltage at full power (vmp) not given: {:.1f} V taken, {} of the "
                     "open-circuit voltage.",
                     vmp, kVmpOverVoc)});
    return vmp;
  }
  const int per_string = std::max(1, panel.series);
  const double blocks = std::max(1.0, std::round(system_v / 12 / per_string));
  said.push_back(
      {AssumptionKind::panel,
       fmt::format(
           "Panel voltage at full power (vmp) not given: {:.1f} V taken, as of {} cells, usual for "
           "a {:.0f} V battery.",
           blocks * kVmpPer36Cells_v, 36 * blocks, system_v)});
  return blocks * kVmpPer36Cells_v;
}

double derived_voc_v(const Panel& panel, double vmp_v, std::vector<Assumption>& said) {
  if (panel.voc_v) return *panel.voc_v;
  const double voc = has_voltage(panel) || panel.imp_a
                         ? vmp_v / kVmpOverVoc
                         : vmp_v * kVocPer36Cells_v / kVmpPer36Cells_v;
  said.push_back(
      {AssumptionKind::panel,
       fmt::format("Open-circuit voltage (voc) not given: {:.1f} V taken, {:.2f} times vmp.", voc,
                   voc / vmp_v)});
  return voc;
}

// The root u of ln u + x u = k, for x >= k >= 0; with Lambert's W it is W(x e^k)/x.
double diode_current_factor(double x, double k) {
  // Agrees with the root at k = 0 up to x^3, and lies below it for any x.
  double u = (1 + 4 * x / 3) / (1 + x * (7 + 2.5 * x) / 3);
  constexpr double kClose = 1e-10;  // what this start may miss, where most panels work
  if (x * x * (x * x / 4 + k) + k * k <= kClose) return u * (1 + k * (1 - x));
  // Newton from below comes up to the root without overshoot: the left side is concave in u.
  constexpr int kMostSteps = 60;
  constexpr double kLastStep = 1e-5;  // the next would be of its square
  for (int step = 0; step < kMostSteps; ++step) {
    const double change = (k - std::log(u) - x * u) / (1 + x * u);
    u += u * change;
    if (std::abs(change) <= kLastStep) break;
  }
  return u;
}

}  // namespace

PanelRating panel_rating(const Panel& panel, double system_v) {
  PanelRating r{};
  std::vector<Assumption>& said = r.assumptions;
  r.power_w = panel.power_w;
  r.vmp_v = derived_vmp_v(panel, system_v, said);
  r.voc_v = derived_voc_v(panel, r.vmp_v, said);
  if (panel.imp_a) {
    r.imp_a = *panel.imp_a;
  } else {
    r.imp_a = panel.power_w / r.vmp_v;
    said.push_back(
        {AssumptionKind::panel,
         fmt::format("Panel current at full power (imp) not given: {:.2f} A taken, power over vmp.",
                     r.imp_a)});
  }
  if (panel.isc_a) {
    r.isc_a = *panel.isc_a;
  } else {
    r.isc_a = kIscOverImp * r.imp_a;
    said.push_back(
        {AssumptionKind::panel,
         fmt::format("Short-circuit current (isc) not given: {:.2f} A taken, {} times imp.",
                     r.isc_a, kIscOverImp)});
  }
  r.temp_coeff_power_pct_k = panel.temp_coeff_power_pct_k.value_or(kTempCoeffPower_pct_k);
  r.temp_coeff_voc_pct_k = panel.temp_coeff_voc_pct_k.value_or(kTempCoeffVoc_pct_k);
  return r;
}

double usual_tilt_deg(double latitude_deg) {
  return std::max(std::round(std::abs(latitude_deg)), kFlattestTilt_deg);
}

double usual_azimuth_deg(double latitude_deg) { return latitude_deg < 0 ? 0 : 180; }

Panel with_power(Panel panel, double power_w) {
  const double factor = panel.power_w > 0 ? power_w / panel.power_w : 1;
  if (panel.imp_a) *panel.imp_a *= factor;
  if (panel.isc_a) *panel.isc_a *= factor;
  panel.power_w = power_w;
  return panel;
}

PanelCurve::PanelCurve(const PanelRating& rating)
    : isc_a_(rating.isc_a),
      voc_v_(rating.voc_v),
      voc_slope_v_k_(rating.voc_v * rating.temp_coeff_voc_pct_k / 100),
      modified_ideality_v_(1),
      series_ohm_(0) {
  if (isc_a_ <= 0) return;  // a panel of no power gives no current
  const double current_ratio = std::min(rating.imp_a / rating.isc_a, kLargestRatio);
  const double vmp = std::min(rating.vmp_v, kLargestRatio * rating.voc_v);
  const double imp = current_ratio * isc_a_;
  const double log_rest = std::log(1 - current_ratio);  // negative
  modified_ideality_v_ = (2 * vmp - voc_v_) / (imp / (isc_a_ - imp) + log_rest);
  series_ohm_ = (modified_ideality_v_ * log_rest + voc_v_ - vmp) / imp;
  // Silicon at 25 deg C cannot be steeper than kT/q = 26 mV in some 600 mV a cell; half of that is
  // where a label's figures no longer describe a panel.
  const double steepest_v = 0.02 * voc_v_;
  if (!(modified_ideality_v_ >= steepest_v && series_ohm_ >= 0)) {
    modified_ideality_v_ = std::max((vmp - voc_v_) / log_rest, steepest_v);
    series_ohm_ = 0;
  }
}

double PanelCurve::open_circuit_v(double cell_temp_c) const {
  return std::max(0.0, voc_v_ + voc_slope_v_k_ * (cell_temp_c - kLabelCell_c));
}

double PanelCurve::current_a(double voltage_v, double irradiance_w_m2, double cell_temp_c) const {
  // IL light current, I0 diode current, a = ideality x cells x kT/q, Rs series resistance.
  const double full_sun_a = isc_a_ * (1 + kTempCoeffIsc_k * (cell_temp_c - kLabelCell_c));
  const double il = full_sun_a * irradiance_w_m2 / kLabelSun_w_m2;
  if (!(il > 0)) return 0;
  const double open_v = open_circuit_v(cell_temp_c);
  if (voltage_v > 2 * open_v) return 0;  // keeps the exponential finite
  const double one_over_a =
      (kLabelCell_c + kZeroCelsius_k) / (modified_ideality_v_ * (cell_temp_c + kZeroCelsius_k));
  const double i0 = full_sun_a * std::exp(-open_v * one_over_a);
  // The diode's current if nothing of IL were lost in it, and as it is: less by a factor u, because
  // what it takes does not pass the series resistance.
  const double diode = full_sun_a * std::exp((voltage_v - open_v + il * series_ohm_) * one_over_a);
  const double u =
      diode_current_factor(diode * series_ohm_ * one_over_a, i0 * series_ohm_ * one_over_a);
  return std::max(0.0, il + i0 - diode * u);
}

double cell_temp_c(double air_temp_c, double irradiance_w_m2, double noct_c) {
  return air_temp_c + (noct_c - 20) / 800 * irradiance_w_m2;
}

double max_power_w(const PanelRating& rating, double irradiance_w_m2, double cell_temperature_c) {
  const double at_temperature =
      1 + rating.temp_coeff_power_pct_k / 100 * (cell_temperature_c - kLabelCell_c);
  return std::max(0.0, rating.power_w * irradiance_w_m2 / kLabelSun_w_m2 * at_temperature);
}

double cold_voc_v(const PanelRating& rating, double temp_c) {
  return rating.voc_v * (1 + rating.temp_coeff_voc_pct_k / 100 * (temp_c - kLabelCell_c));
}

double nec_cold_voltage_factor(double ambient_c) {
  struct Row {
    double down_to_c;
    double factor;
  };
  // NEC 2014 Table 690.7, crystalline and multicrystalline silicon.
  static constexpr std::array<Row, 14> kRows = {{{25, 1.00},
                                                 {20, 1.02},
                                                 {15, 1.04},
                                                 {10, 1.06},
                                                 {5, 1.08},
                                                 {0, 1.10},
                                                 {-5, 1.12},
                                                 {-10, 1.14},
                                                 {-15, 1.16},
                                                 {-20, 1.18},
                                                 {-25, 1.20},
                                                 {-30, 1.21},
                                                 {-35, 1.23},
                                                 {-40, 1.25}}};
  // The rows are whole degrees: 9..5 is one row, so 9.5 belongs to the row below it.
  const auto row = std::find_if(kRows.begin(), kRows.end(),
                                [&](const Row& r) { return std::floor(ambient_c) >= r.down_to_c; });
  return row == kRows.end() ? kRows.back().factor : row->factor;
}

double nec_string_current_a(double isc_a) { return 1.25 * 1.25 * isc_a; }

}  // namespace amptally::inline v0_1
