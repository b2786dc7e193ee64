#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/balance.hpp"

/// Cables and fuses: what gets lost on the way, and what would do.
namespace amptally {

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
  double flow;
  double head;
  double power;
};
[[nodiscard]] PumpShares affinity_shares(double speed_share);

/// One cable of a site looked at. Where the site gives no section, the figures are those of the
/// section that would do.
struct CableCheck {
  Cable cable;
  double section_mm2;       ///< the figures belong to
  double voltage_v;         ///< nominal of the bank, or of the panel's string at its maximum
  double current_a;         ///< while running
  double start_current_a;   ///< while a motor starts; as `current_a` where none does
  double drop_v;            ///< at `current_a`
  double drop_share;        ///< of `voltage_v`
  double start_drop_share;  ///< at `start_current_a`
  double loss_wh_day;       ///< mean over the mean year
  double ampacity_a;        ///< what the section may carry
  double fuse_needed_a;     ///< the fuse's rating is at least this
  std::optional<double> fuse_a = {};           ///< next standard size that protects the cable
  const Conductor* thinnest_iec = nullptr;     ///< that would do; nullptr: none in the table
  const Conductor* thinnest_awg = nullptr;     ///< likewise
  std::optional<double> pump_flow_share = {};  ///< if it feeds a load, and that is a pump
  std::string assumption = {};                 ///< a sentence; empty when nothing was assumed

  [[nodiscard]] double voltage_at_load_v() const { return voltage_v - drop_v; }
  [[nodiscard]] bool keeps_drop() const { return drop_share <= cable.max_drop_share; }
  [[nodiscard]] bool does() const { return keeps_drop() && fuse_a.has_value(); }
};

/// All cables of a site, in its order.
///
/// Current for the drop: a load's draw times its count at the bank's nominal voltage; for the
/// panel, its current at maximum power; for the battery, all loads at once or the current of full
/// sun, the larger. The fuse: at least 1.25 times that; for the panel 1.25 x 1.25 times its
/// short-circuit current (NEC 690.8). Loss: the mean of the squared current over the mean year; the
/// loads are taken to run independently of each other, and all charge offered to be taken.
/// @param prepared  of the same site; its balance is not looked at
[[nodiscard]] std::vector<CableCheck> check_wiring(const Site& site, const Simulation& prepared);

/// "0.75 mm2", "0.823 mm2 (18 AWG)".
[[nodiscard]] std::string section_text(double section_mm2);

/// The thinnest that would do, in both standards: "2.5 mm2 (12 AWG)"; empty where none does.
[[nodiscard]] std::string thinnest_text(const CableCheck& check);

/// A sentence or two on a cable that loses too much; empty when it keeps to its drop.
[[nodiscard]] std::string drop_text(const CableCheck& check);

/// A sentence on a cable that no fuse protects; empty when one does.
[[nodiscard]] std::string fuse_text(const CableCheck& check);

}  // namespace amptally
