#pragma once

#include "balance/day_step.hpp"

/// Designs side by side, as the day's kernel works on them: plain numbers, a row of lanes for each.
/// Includes no library, for the reason given in quantity/lane_arithmetic.hpp.
namespace amptally::inline v0_1 {

/// Designs in a block. Chosen: enough independent work to fill the time that one design's hour
/// takes from start to end, and all of a block's rows still in the nearest cache.
inline constexpr int kBlockLanes = 64;

/// One number for each design.
struct alignas(64) Row {
  double lane[kBlockLanes];
};

/// What a block's designs are, how they stand, and this year so far: the structs of one design,
/// with a row where that has a number.
struct Block {
  HourConstantsOf<Row> hourly;
  Row frozen_limit_ah;  ///< charge limit while the air is below freezing
  DayConstantsOf<Row> daily;
  Row offer_size;   ///< times the shared unit offer, A
  Row offer_limit;  ///< A
  StateOf<Row> state;
  DullDaysOf<Row> dull;
  PeriodSumsOf<Row> year;
};

/// A day that a block's designs share: one sky, one kind of panel and regulator, one set of loads.
struct SharedDay {
  const double* unit_offer;            ///< 24
  const double* asked_ah;              ///< 24
  const double* run_ah;                ///< 24
  const double* run_share;             ///< 24
  const Light* light;                  ///< 24
  const unsigned short* draw_of_hour;  ///< 24, each a row of `drawable_share`
  const Row* drawable_share;           ///< one for each draw of the year
  double asked_day_ah;                 ///< sum of `asked_ah`
};

/// A day of designs that share nothing but the calendar.
struct OwnDay {
  Row offer_ah[kDayHours];  ///< sized and limited
  Row asked_ah[kDayHours];
  Row run_ah[kDayHours];
  Row run_share[kDayHours];
  Row drawable_share[kDayHours];
  Row charge_limit_ah[kDayHours];
  Row asked_day_ah;
  bool lit[kDayHours];  ///< for any of the designs
};

/// Runs days of a block's first lanes, up to a whole vector.
struct DayKernel {
  const char* name;
  int width;  ///< lanes go through it so many at a time
  bool (*runs_here)();
  /// @param temperature_factor  share of each design's capacity that there is on the day
  /// @param short_years  counts, lane by lane, the years in which this day was short
  void (*shared)(Block& block, const Row& temperature_factor, const SharedDay& day,
                 Row& short_years, int lanes);
  void (*own)(Block& block, const Row& temperature_factor, const OwnDay& day, Row& short_years,
              int lanes);
};

// One for each instruction set; the last two on x86-64 only run where the processor has them.
extern const DayKernel kPortableKernel;
extern const DayKernel kSse2Kernel;
extern const DayKernel kAvx2Kernel;
extern const DayKernel kAvx512Kernel;

}  // namespace amptally::inline v0_1
