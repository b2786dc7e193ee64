#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/hydraulics.hpp"
#include "amptally/site.hpp"

/// The water of a site: what each line passes, how long it runs for its demand, what it loses when
/// it stands, and how the tank fares over the mean year.
namespace amptally::inline v0_1 {

/// A crop and its water use.
struct Crop {
  std::string_view name;
  double kc_mid;  ///< evapotranspiration in mid-season over that of reference grass
};

/// The crops of data/crops.csv, in its order.
[[nodiscard]] std::span<const Crop> crops();

/// The crop of that name, or null. Capitals do not matter.
[[nodiscard]] const Crop* find_crop(std::string_view name);

/// Evapotranspiration of reference grass, mm a day; 0 or more.
///
/// Source: Hargreaves & Samani 1985 in FAO-56 (Allen et al. 1998) eq. 52: 0.0023 (T + 17.8)
/// sqrt(Tmax - Tmin) Ra, with Ra in mm of water (0.408 mm to the MJ/m2, FAO-56 eq. 20).
/// @param swing_c  mean warmest less mean coldest hour of the day, K; >= 0
/// @param extraterrestrial_kwh_m2_day  sun on a level plane above the air
[[nodiscard]] double reference_evapotranspiration_mm_day(double mean_c, double swing_c,
                                                         double extraterrestrial_kwh_m2_day);

/// The same for each month of a place; the swing is `air_swing_c` of the month's clearness.
[[nodiscard]] Monthly reference_evapotranspiration_mm_day(const Place& place);

/// Litres a roof catches: rain x area x runoff. 1 mm on 1 m2 is 1 L.
[[nodiscard]] double roof_catch_l(double rain_mm, double roof_m2, double runoff_share);

/// Water a line is to bring, L a day, January first. Rain is not taken off a crop's need.
/// @return unset without a demand
[[nodiscard]] std::optional<Monthly> line_demand_l_day(const Place& place, const WaterLine& line);

/// Temperature of the water in each month: the air's, within 1..40 deg C. Chosen: tanks and tubes
/// lie in the open; outside these bounds nothing flows, or the monthly mean is not the water's.
[[nodiscard]] Monthly water_temp_c(const Place& place);

/// Minutes a day that a line runs for its demand, January first; may be above 1440.
/// @throws InputError if the line has no demand, or there is a `why_no_flow`
/// @throws ModelError from `line_flow`
[[nodiscard]] Monthly line_minutes_day(const Place& place, const WaterLine& line);

/// Minutes a day of a load that takes them from a line, over the days it runs on; 0 in months
/// without a run.
/// @param field  of the load's `from_water`, for messages
/// @throws InputError as `line_minutes_day`, or if they are more than a day has
[[nodiscard]] Monthly from_water_minutes_day(const Site& site, const Load& load,
                                             const std::string& field);

/// What holding an ordinary solenoid valve open takes, W. Common practice, no source: 0.3 A at 12
/// V.
inline constexpr double kSolenoid_w = 4;

/// The solenoid valves of a site as loads: open while their line runs, in the months of all loads
/// that run by it, as often as the one of them that draws most. A line without flow or demand has
/// no minutes, so its valve has none.
[[nodiscard]] std::vector<Load> valve_loads(const Site& site);

/// A line that goes on running when its pump stands.
struct Siphon {
  double flow_l_h;  ///< from a full tank
  double until_m;   ///< level at which it stops, above the tank's floor
  double night_l;   ///< lost in the 12 h after the pump stops, from a full tank, by this line alone
};

/// The siphon of a line, from the same equations as its pumped flow, with the water level above the
/// outlets as its head, less what its standing pump takes (`standing_pump_loss_m`). The tank is
/// taken to have straight sides.
/// @return unset if a valve or air break stops it, the outlets lie above a full tank's level, their
///         height is not known, or neither tube nor outlets are
[[nodiscard]] std::optional<Siphon> line_siphon(const Tank& tank, const WaterLine& line,
                                                double viscosity_m2_s);

/// The next wider of the bores in trade, and what the line would pass through it.
struct WiderTube {
  double bore_mm;
  double flow_l_h;
};

/// Why it is not told what a line passes.
enum class NoFlow {
  nothing_drives_it,  ///< no pump, nor outlets below the water
  nothing_sets_it,    ///< neither tube nor outlets, which hold the water back
};

/// @return unset where a line's flow can be worked out
[[nodiscard]] std::optional<NoFlow> why_no_flow(const WaterLine& line);

/// One line over the year.
struct LineStudy {
  std::string name;
  double water_temp_c = 0;            ///< of `flow`: the year's mean
  std::optional<LineFlow> flow = {};  ///< unset where there is a `no_flow`
  std::optional<NoFlow> no_flow = {};
  std::optional<WiderTube> wider = {};       ///< where it would pass a tenth more
  std::optional<Monthly> demand_l_day = {};  ///< 0 in months it does not run
  std::optional<Monthly> minutes_day = {};   ///< for the demand; may be above 1440
  std::optional<Monthly> use_ah_day = {};    ///< of the loads that run by it, and its valve
  std::optional<Siphon> siphon = {};

  /// Whether every month's demand can be met within a day.
  [[nodiscard]] bool meets_demand() const;
};

/// The tank over the mean year.
struct TankStudy {
  double usable_l = 0;  ///< above its outlet
  /// From full and without refill, in each month by its rain; unset if that keeps up.
  std::array<std::optional<double>, kMonthsPerYear> filling_days{};
  std::optional<double> days_to_empty = {};  ///< the shortest of them
  int days_to_empty_month = 0;               ///< 0..11, its month
  /// Neither rain nor refill comes in: the year is not followed, only how long a filling lasts.
  bool is_filled_by_hand = false;
  int dry_days = 0;  ///< days on which the lines ask more than it holds
  Monthly dry_days_month{};
  Monthly lowest_l{};  ///< lowest usable content in each month
  double overflow_l = 0;
  double catch_l = 0;   ///< from the roof, a year
  double refill_l = 0;  ///< a year
  double use_l = 0;     ///< served, a year; all that is asked where it is filled by hand
  double siphon_l = 0;  ///< lost at night to lines that run on, a year

  /// Whether it never runs dry, or a filling by hand lasts a day.
  [[nodiscard]] bool holds() const;
};

/// Litres that a tank loses in a night of `month`, 0..11, from its usable content at dusk.
using NightLoss = std::function<double(std::size_t month, double content_l)>;

/// A tank day by day: full on 1 January, then the mean year twice, of which the second is told.
/// Each month's rain and refill are spread evenly over its days; what the night takes is gone in
/// the morning.
/// @param use_l_day  of all lines, January first
[[nodiscard]] TankStudy study_tank(const Place& place, const Tank& tank, const Monthly& use_l_day,
                                   const NightLoss& night_loss_l = {});

struct WaterStudy {
  std::vector<LineStudy> lines;
  std::optional<TankStudy> tank;
  std::vector<Assumption> assumptions;

  /// Whether the tank lasts, and every line has a flow and meets its demand.
  [[nodiscard]] bool holds() const;
};

/// All of a site's water; empty for a site without.
/// @throws ModelError from `line_flow`
[[nodiscard]] WaterStudy study_water(const Site& site);

}  // namespace amptally::inline v0_1
