#pragma once

#include <cstddef>
#include <span>

#include "design.hpp"

/// Designs put side by side into a block's lanes.
namespace amptally {

/// What a lane's day marks are made of, see `day_marks`.
struct MarkLane {
  double capacity_ah;
  const BatteryType* type;
  Monthly rate_factor;
  double above_cutoff;
  double above_reconnect;
  double frozen_reconnect_ah;  ///< where nothing can be had
};

[[nodiscard]] MarkLane mark_lane(const Design& design);

/// Puts a design into a lane, standing as it starts; leaves the year's books alone.
void set_lane(Block& block, std::size_t lane, const Design& design);

/// The marks of all lanes on a day.
/// @param years  one a lane: the year that its design is in
/// @param day    0..364
void set_marks(std::span<const MarkLane> lanes, std::span<const SharedYear* const> years,
               std::size_t day, DayRows& marks);

}  // namespace amptally
