#pragma once

/// What counts when days are added up to years, for one design (year_summary) and for many
/// (src/kernel). Includes nothing, for the reason given in quantity/lane_arithmetic.hpp.
namespace amptally {

/// Below this share of the day's use a shortfall is rounding, not a thirsty plant.
inline constexpr double kRoundingShare = 1e-9;

/// A discharge this close to the floor is at it, not below: rounding.
inline constexpr double kFloorSlack = 1e-9;

/// Days in the model's year.
inline constexpr double kYearDays = 365;

}  // namespace amptally
