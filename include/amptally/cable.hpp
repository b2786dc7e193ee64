#pragma once

#include <optional>
#include <span>
#include <string_view>

/// Conductors by the tables of the trade: their resistance, what they may carry, which will do.
namespace amptally::inline v0_1 {

enum class ConductorStandard {
  iec,  ///< IEC 60228 class 5 (flexible), plain copper, by section
  awg,  ///< NEC Chapter 9 Table 8, stranded uncoated copper, by gauge
};

/// One standard conductor; compiled in from data/conductors.csv.
struct Conductor {
  ConductorStandard standard;
  std::string_view size;     ///< as sold: "0.75" (mm2), "18" (AWG)
  double section_mm2;        ///< nominal, or of the gauge (ASTM B258)
  double resistance_ohm_km;  ///< direct current, one conductor, at `at_c`
  double at_c;               ///< deg C
  double ampacity_a;         ///< two-core cable in free air at 30 deg C
};

/// All conductors, each standard's from thin to thick, in the order of data/conductors.csv.
[[nodiscard]] std::span<const Conductor> conductors();

/// Temperature of a working conductor, deg C. Chosen: a cable in the sun or lightly loaded.
inline constexpr double kConductor_c = 40;

/// Resistance of copper at `temp_c` over that at 20 deg C: 1 + 0.004 (T - 20).
/// Source: IEC 60228:2004, temperature correction factors (their inverse).
[[nodiscard]] double copper_resistance_ratio(double temp_c);

/// Resistance of one conductor, ohm per metre.
[[nodiscard]] double resistance_ohm_m(const Conductor& conductor, double temp_c = kConductor_c);

/// What a cable has to do.
struct Circuit {
  double current_a;       ///< while running; >= 0
  double length_m;        ///< one way; > 0
  double voltage_v;       ///< of which the drop is a share; > 0
  double max_drop_share;  ///< 0..1
  double fuse_a = 0;      ///< the cable has to carry what the fuse lets pass; 0: not looked at
};

/// Voltage lost there and back, V: 2 x length x current x resistance.
[[nodiscard]] double drop_v(const Circuit& circuit, double ohm_m);

/// The thinnest conductor of a standard that keeps to the drop and carries the fuse's current;
/// nullptr where none does.
[[nodiscard]] const Conductor* thinnest_conductor(ConductorStandard standard,
                                                  const Circuit& circuit);

/// Smallest standard blade fuse of at least `current_a`; none above 40 A.
/// Source: sizes of ISO 8820-3 blade fuses, from memory.
[[nodiscard]] std::optional<double> blade_fuse_a(double current_a);

/// What a pump gives at another speed, as shares of what it gave; speed of a direct-current motor
/// goes about with its voltage. Source: affinity laws, e.g. Crane TP-410.
struct PumpShares {
  double flow_share;
  double head_share;
  double power_share;
};
[[nodiscard]] PumpShares affinity_shares(double speed_share);

}  // namespace amptally::inline v0_1
