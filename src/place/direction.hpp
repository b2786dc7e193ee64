#pragma once

#include <cmath>
#include <numbers>

/// Angles and directions worked with by their cosines and sines, which cost so much more to work
/// out than to put together.
namespace amptally::inline v0_1 {

inline constexpr double kRadPerDeg = std::numbers::pi / 180;

/// An angle by its cosine and sine.
struct Turn {
  double cos;
  double sin;

  /// One angle on from another.
  friend Turn operator+(const Turn& a, const Turn& b) {
    return {a.cos * b.cos - a.sin * b.sin, a.sin * b.cos + a.cos * b.sin};
  }
};

[[nodiscard]] inline Turn turn(double angle_rad) {
  return {std::cos(angle_rad), std::sin(angle_rad)};
}

/// Directions as east, north, up.
struct Direction {
  double east;
  double north;
  double up;

  [[nodiscard]] double dot(const Direction& other) const {
    return east * other.east + north * other.north + up * other.up;
  }

  friend Direction operator*(const Direction& a, double factor) {
    return {a.east * factor, a.north * factor, a.up * factor};
  }
};

}  // namespace amptally::inline v0_1
