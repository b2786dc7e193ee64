#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/cable.hpp"

/// The cables and fuses of a site: what gets lost on the way, and what would do.
namespace amptally::inline v0_1 {

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

}  // namespace amptally::inline v0_1
