#pragma once

/// Designs side by side, as the day's kernel works on them: plain numbers, a row of lanes for each.
/// Includes nothing, for the reason given in quantity/lane_arithmetic.hpp.
namespace amptally {

/// Designs in a block. Chosen: enough independent work to fill the time that one design's hour
/// takes from start to end, and all of a block's rows still in the nearest cache.
inline constexpr int kBlockLanes = 64;

/// Hours of a day.
inline constexpr int kDayHours = 24;

/// One number for each design.
struct alignas(64) Row {
  double lane[kBlockLanes];
};

/// What a block's designs are, how they stand, and this year's books.
struct Block {
  // The designs, see BankOf.
  Row standby_ah;
  Row kept_share;
  Row drift_ah;
  Row charge_limit_ah;
  Row frozen_limit_ah;  ///< charge limit while the air is below freezing
  Row taper_gain_a;
  Row taper_offset_a;
  Row taper_tail;
  Row taper_bend;
  Row offer_size;   ///< times the shared unit offer, A
  Row offer_limit;  ///< A
  Row floor_share;  ///< a deeper discharge is below the floor
  Row bank_v;
  // Of a day's marks, see day_marks().
  Row capacity_ah;
  Row above_cutoff;
  Row above_reconnect;
  Row cold_reconnect_ah;  ///< the reconnect mark where nothing can be had
  // How they stand, see StateOf.
  Row taken_ah;
  Row connected;
  Row dull_run_days;  ///< days in a row that brought less than was used
  Row longest_dull_days;
  // This year so far.
  Row charge_ah;
  Row use_ah;
  Row short_ah;
  Row short_wh;
  Row short_days;
  Row floor_days;
  Row deepest_discharge;
  Row daily_discharge;  ///< mean over the year's days of highest less lowest state of charge
};

/// Shares of the designs' capacities that can be had on a day.
struct DayShares {
  Row temperature_factor;  ///< at the day's temperature
  const Row* rate_factor;  ///< at the month's mean use
};

/// What the sun does in an hour.
enum class Light : unsigned char { dark, lit, lit_and_frozen };

/// A day that a block's designs share: one sky, one kind of panel and regulator, one set of loads.
struct SharedDay {
  const double* unit_offer;  ///< 24
  const double* asked_ah;    ///< 24
  const Light* light;        ///< 24
  double asked_day_ah;       ///< sum of the above
};

/// A day of designs that share nothing but the calendar.
struct OwnDay {
  Row offer_ah[kDayHours];  ///< sized and limited
  Row asked_ah[kDayHours];
  Row charge_limit_ah[kDayHours];
  Row asked_day_ah;
  bool lit[kDayHours];  ///< for any of the designs
};

/// Runs days of a block's first lanes, up to a whole vector.
struct DayKernel {
  const char* name;
  int width;  ///< lanes go through it so many at a time
  bool (*runs_here)();
  /// @param short_years  counts, lane by lane, the years in which this day was short
  void (*shared)(Block& block, const DayShares& shares, const SharedDay& day, Row& short_years,
                 int lanes);
  void (*own)(Block& block, const DayShares& shares, const OwnDay& day, Row& short_years,
              int lanes);
};

// One for each instruction set; the last two on x86-64 only run where the processor has them.
extern const DayKernel kPortableKernel;
extern const DayKernel kSse2Kernel;
extern const DayKernel kAvx2Kernel;
extern const DayKernel kAvx512Kernel;

}  // namespace amptally
