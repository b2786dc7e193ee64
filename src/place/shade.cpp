#include "place/shade.hpp"

#include <algorithm>
#include <cmath>

namespace amptally::inline v0_1 {
namespace {

// Chosen: patches of the sky for the obstacles' share of it, degrees.
constexpr int kPatchElevation_deg = 2;
constexpr int kPatchAzimuth_deg = 3;

// How far round an obstacle reaches, 0 (not included) to 360 deg: 0..360 is all round.
double width_deg(const Obstacle& obstacle) {
  const double width = std::fmod(obstacle.azimuth_to_deg - obstacle.azimuth_from_deg, 360.0);
  return width <= 0 ? width + 360 : width;
}

// The turn to an azimuth; the same bits for 370 and for 10 deg.
Turn azimuth_turn(double azimuth_deg) { return turn(std::fmod(azimuth_deg, 360.0) * kRadPerDeg); }

// A piece of the sky, and what a plane catches of its light.
struct Patch {
  // Not of unit length: up is the sine of the elevation, the azimuth's part is 1 long.
  Direction to;
  double caught;
};

std::vector<Patch> patches_facing(const Direction& normal) {
  std::vector<Turn> azimuths;
  for (int a = 0; a < 360; a += kPatchAzimuth_deg) {
    azimuths.push_back(azimuth_turn(a + kPatchAzimuth_deg / 2.0));
  }
  std::vector<Patch> patches;
  patches.reserve(azimuths.size() * 90 / kPatchElevation_deg);
  for (int e = 0; e < 90; e += kPatchElevation_deg) {
    const Turn elevation = turn((e + kPatchElevation_deg / 2.0) * kRadPerDeg);
    for (const Turn& azimuth : azimuths) {
      const Direction to = {elevation.cos * azimuth.sin, elevation.cos * azimuth.cos,
                            elevation.sin};
      const double facing = normal.dot(to);
      if (facing <= 0) continue;
      patches.push_back({{azimuth.sin, azimuth.cos, elevation.sin}, facing * elevation.cos});
    }
  }
  return patches;
}

double caught(std::span<const Patch> patches, std::span<const Screen> screens) {
  double sum = 0;
  for (const Patch& patch : patches) sum += patch.caught * passes_share(screens, patch.to);
  return sum;
}

// Whether the same obstacles stand in two months.
bool alike(std::span<const Obstacle> shade, std::size_t a, std::size_t b) {
  return std::all_of(shade.begin(), shade.end(), [&](const Obstacle& obstacle) {
    return obstacle.months.test(a) == obstacle.months.test(b);
  });
}

}  // namespace

Screen::Screen(const Obstacle& obstacle)
    : top_up_(std::sin(obstacle.elevation_deg * kRadPerDeg)),
      from_(azimuth_turn(obstacle.azimuth_from_deg)),
      to_(azimuth_turn(obstacle.azimuth_to_deg)),
      wide_(width_deg(obstacle) > 180),
      blocks_share_(obstacle.blocks_share) {}

MonthScreens screens_by_month(std::span<const Obstacle> shade) {
  MonthScreens months;
  for (const Obstacle& obstacle : shade) {
    for (std::size_t m = 0; m < months.size(); ++m) {
      if (obstacle.months.test(m)) months[m].emplace_back(obstacle);
    }
  }
  return months;
}

std::array<double, 12> sky_views(std::span<const Obstacle> shade, const Direction& normal,
                                 double open) {
  std::array<double, 12> views{};
  views.fill(open);
  if (shade.empty()) return views;
  const std::vector<Patch> patches = patches_facing(normal);
  // The patches' own rounding cancels in the ratio to the same sum without obstacles.
  const double open_sum = caught(patches, {});
  const MonthScreens screens = screens_by_month(shade);
  for (std::size_t m = 0; m < views.size(); ++m) {
    std::size_t like = 0;
    while (!alike(shade, like, m)) ++like;
    views[m] = like < m ? views[like] : open * (caught(patches, screens[m]) / open_sum);
  }
  return views;
}

}  // namespace amptally::inline v0_1
