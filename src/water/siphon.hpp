#pragma once

#include <array>
#include <optional>
#include <vector>

#include "amptally/water.hpp"

namespace amptally::inline v0_1 {

/// A line that runs on by itself, at any level of its tank.
class SiphonFlow {
 public:
  /// @return unset as `line_siphon`
  [[nodiscard]] static std::optional<SiphonFlow> of(const Tank& tank, const WaterLine& line,
                                                    double viscosity_m2_s);

  /// Height of its outlets above the tank's floor.
  [[nodiscard]] double outlet_m() const { return outlet_m_; }
  /// Level of the water at which it stops.
  [[nodiscard]] double until_m() const { return until_m_; }
  /// Levels at which its flow was worked out, falling from that of a full tank.
  [[nodiscard]] const std::vector<double>& levels_m() const { return levels_m_; }
  /// At a level among `levels_m` or between them; 0 below the last.
  [[nodiscard]] double at_l_h(double level_m) const;

 private:
  double outlet_m_ = 0;
  double until_m_ = 0;
  std::vector<double> levels_m_;
  std::vector<double> flows_l_h_;
};

/// The level of a tank that siphons empty, hour by hour.
///
/// Between two levels the flow is a power of the height above the lowest outlet, so the time that
/// the water takes from one to the other, the integral of area/flow, has a closed form. The
/// levels stand closer together towards each outlet, in equal steps of the head's logarithm: a
/// barrel that empties in a minute is followed as finely as one that takes a week.
class SiphonFall {
 public:
  /// @param flows  at least one, of the same tank
  SiphonFall(const Tank& tank, const std::vector<SiphonFlow>& flows);

  /// @param level_m  of the water at the start, up to that of a full tank
  [[nodiscard]] double level_after_m(double level_m, double hours) const;

 private:
  // From one level down to the next.
  struct Piece {
    double top_m;     // above `base_m_`
    double bottom_m;  // likewise, > 0
    double flow_l_h;  // at its top
    double exponent;  // of the height in the flow
    double from_h;    // since the tank was full
  };
  [[nodiscard]] double hours_down_to(const Piece& piece, double height_m) const;
  [[nodiscard]] double height_after_m(const Piece& piece, double hours) const;

  double area_l_m_;
  double base_m_;   // height of the lowest outlet
  double until_m_;  // where the last of them stops
  std::vector<Piece> pieces_;
};

/// A line that runs on, and the months in which it does.
struct SeasonalSiphon {
  SiphonFlow flow;
  MonthSet months;
};

/// What a tank loses at night to all its lines together.
class SiphonNights {
 public:
  /// @param siphons  of that tank; may be none
  SiphonNights(const Tank& tank, std::vector<SeasonalSiphon> siphons);

  /// @param content_l  above the tank's outlet, at dusk
  [[nodiscard]] double lost_l(std::size_t month, double content_l) const;

 private:
  double bottom_m_;
  double area_l_m_ = 0;
  std::vector<std::vector<std::size_t>> open_lines_;  // each different set of lines
  std::vector<SiphonFall> falls_;                     // one a set
  std::array<std::optional<std::size_t>, kMonthsPerYear> fall_of_month_{};
};

/// The night after a day on which the tank was full.
[[nodiscard]] Siphon night_from_full(const Tank& tank, const SiphonFlow& flow);

}  // namespace amptally::inline v0_1
