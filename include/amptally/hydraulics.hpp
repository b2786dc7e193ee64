#pragma once

#include <vector>

#include "amptally/site.hpp"

/// Water through a small tube: friction, outlets, and the point where pump and line agree.
namespace amptally::inline v0_1 {

/// Kinematic viscosity of water, m2/s. Straight lines between the rows of the table.
/// Source: MWH, Water Treatment, 3rd ed. 2012, Table C-1 (after Vennard & Street 1975).
/// @param temp_c  0..60 deg C
[[nodiscard]] double water_viscosity_m2_s(double temp_c);

/// Mean speed of a flow in a bore, m/s.
[[nodiscard]] double velocity_m_s(double flow_l_h, double bore_mm);

/// Reynolds number of a flow in a bore.
[[nodiscard]] double reynolds_number(double flow_l_h, double bore_mm, double viscosity_m2_s);

enum class FlowRegime {
  laminar,    ///< Reynolds number up to 2000
  between,    ///< neither: the least certain
  turbulent,  ///< from 4000
};

[[nodiscard]] FlowRegime flow_regime(double reynolds);

/// Darcy friction factor of a smooth tube.
///
/// 64 / Re up to 2000 (Hagen-Poiseuille); 0.3164 Re^-0.25 from 4000 (Blasius 1913), which holds in
/// plastic tubes of 4 mm and less too; Haaland 1983 for a smooth wall above 1e5, where Blasius
/// ends. Between 2000 and 4000 a straight line: chosen, so that head loss never falls as flow
/// rises.
/// @param reynolds  > 0
[[nodiscard]] double darcy_friction(double reynolds);

/// Head lost to friction along a tube, m. Source: Darcy & Weisbach, h = f L/D V^2/2g.
/// @param flow_l_h  >= 0
[[nodiscard]] double tube_loss_m(const Tube& tube, double flow_l_h, double viscosity_m2_s);

/// Loss coefficients, times V^2/2g. Source: textbook tables of minor losses, which agree on both.
inline constexpr double kSharpEntrance = 0.5;  ///< from the tank, or the pump, into the tube
inline constexpr double kOpenEnd = 1.0;        ///< all of the speed is lost at an open end

/// Head of a pump at a flow, m: H0 (1 - (Q/Q0)^2), from what is printed on it. Chosen: two printed
/// points allow one parabola, the usual shape of a small centrifugal pump. Negative beyond Q0.
[[nodiscard]] double pump_head_m(const WaterPump& pump, double flow_l_h);

/// Head lost in the passage of a pump that stands and lets water through, m: H0 (Q/Q0)^2. Chosen:
/// what its running loses of the head it has at no flow. So it never passes more standing than
/// running. That of centrifugal pumps; others hold the water.
[[nodiscard]] double standing_pump_loss_m(const WaterPump& pump, double flow_l_h);

/// Flow of one outlet at a head, L/h: q = k h^x, k from the printed flow. 0 for heads up to 0.
[[nodiscard]] double outlet_flow_l_h(const Outlets& outlets, double head_m);

/// How a line runs.
struct LineFlow {
  double flow_l_h = 0;
  double head_m = 0;           ///< of the pump at this flow; 0 without one, below 0 where it stands
  double lift_m = 0;           ///< from the water surface up to the outlets
  double tube_loss_m = 0;      ///< friction down to the last outlet
  double entrance_loss_m = 0;  ///< at the entrance and, where the tube ends open, at its end
  double velocity_m_s = 0;     ///< where the tube begins; 0 without a tube
  double reynolds = 0;         ///< there
  FlowRegime regime = FlowRegime::laminar;
  double last_outlet_m = 0;              ///< head at the last outlet fed; 0 for an open end
  std::vector<double> outlets_l_h = {};  ///< each, from the pump on; one for an open end

  /// Largest less smallest outlet, over their mean.
  [[nodiscard]] double unevenness() const;
  /// Outlets at the far end that get no water.
  [[nodiscard]] int dry_outlets() const;
};

/// What moves the water of a line.
enum class Drive { pump, gravity };

/// Where pump and line meet.
///
/// The outlets stand evenly along the tube, the first one spacing from its start, all at the same
/// height. From a head at the last outlet the line is followed back to the pump, outlet by outlet;
/// that head is found between two ends, since more of it always means more flow, more
/// friction and less from the pump. Where the line cannot feed all outlets, the farthest stay dry.
/// Without outlets the tube's end is open. The speed of the water in the tube counts at an open end
/// only.
/// @param lift_m  height of the outlets above the water; the line's own, or another
/// @param drive   `gravity`: the pump stands, and takes `standing_pump_loss_m`
/// @throws InputError naming `field`, for a line without anything that holds the water back
/// @throws ModelError in words, if the pump or the fall cannot bring water to any outlet, or
///   hardly a drop comes through the line
[[nodiscard]] LineFlow line_flow(const WaterLine& line, double lift_m, Drive drive,
                                 double viscosity_m2_s);

/// Whether `drive` brings any water to the outlets.
[[nodiscard]] bool reaches(const WaterLine& line, double lift_m, Drive drive);

}  // namespace amptally::inline v0_1
