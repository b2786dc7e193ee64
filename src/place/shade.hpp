#pragma once

#include <algorithm>
#include <array>
#include <span>
#include <vector>

#include "amptally/sun.hpp"

#include "place/direction.hpp"

namespace amptally::inline v0_1 {

/// An obstacle made ready to be looked at in many directions: no angle is worked out of any.
class Screen {
 public:
  explicit Screen(const Obstacle& obstacle);

  /// Whether the obstacle stands in a direction. How long that is does not matter to the azimuth.
  [[nodiscard]] bool stands_in(const Direction& to) const {
    if (to.up >= top_up_) return false;
    const bool past_from = from_.cos * to.east >= from_.sin * to.north;
    const bool before_to = to_.sin * to.north >= to_.cos * to.east;
    return wide_ ? past_from || before_to : past_from && before_to;
  }

  [[nodiscard]] double blocks_share() const { return blocks_share_; }

 private:
  double top_up_;  // of a unit vector to the top edge
  Turn from_;      // azimuths, clockwise from north
  Turn to_;
  bool wide_;  // more than half way round
  double blocks_share_;
};

/// The obstacles of each month, January first.
using MonthScreens = std::array<std::vector<Screen>, 12>;

[[nodiscard]] MonthScreens screens_by_month(std::span<const Obstacle> shade);

/// Share of light from a direction that gets past the obstacles. Where two stand in line the denser
/// one counts.
[[nodiscard]] inline double passes_share(std::span<const Screen> screens, const Direction& from) {
  double blocked = 0;
  for (const Screen& screen : screens) {
    if (screen.stands_in(from)) blocked = std::max(blocked, screen.blocks_share());
  }
  return 1 - blocked;
}

/// Share of an isotropic sky's light that a plane catches past the obstacles, month by month.
/// @param normal  of the plane
/// @param open    the same under an open sky: (1 + cos tilt)/2
[[nodiscard]] std::array<double, 12> sky_views(std::span<const Obstacle> shade,
                                               const Direction& normal, double open);

}  // namespace amptally::inline v0_1
