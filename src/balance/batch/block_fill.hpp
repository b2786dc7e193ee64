#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "balance/batch/block.hpp"
#include "balance/batch/design.hpp"

/// Designs put side by side into a block's lanes.
namespace amptally::inline v0_1 {

/// Puts a design into a lane, standing as it starts; leaves the sums of the year alone.
void set_lane(Block& block, std::size_t lane, const Design& design);

/// For each of the loads' draws, what it can draw from each design.
/// @param designs  one a lane, with the same loads
[[nodiscard]] std::vector<Row> drawable_rows(std::span<const Design* const> designs);

/// Lanes side by side, `begin` .. `end - 1`, with one kind of battery under one sky.
struct AlikeLanes {
  std::size_t begin;
  std::size_t end;
};

/// All lanes, in the longest such runs.
/// @param designs  one a lane
[[nodiscard]] std::vector<AlikeLanes> alike_lanes(std::span<const Design* const> designs);

/// The temperature factors of a day, one a lane.
/// @param designs  one a lane
/// @param alike    of `designs`
/// @param years    one a lane: the year that its design is in
/// @param day      0..364
void set_temperature_factors(std::span<const Design* const> designs,
                             std::span<const AlikeLanes> alike,
                             std::span<const WeatherYear* const> years, std::size_t day,
                             Row& factors);

}  // namespace amptally::inline v0_1
