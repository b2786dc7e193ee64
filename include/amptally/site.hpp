#pragma once

#include <array>
#include <bitset>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace amptally::inline v0_1 {

/// Twelve values, January first.
using Monthly = std::array<double, 12>;

inline constexpr std::array<std::string_view, 12> kMonthNames = {
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};

/// Months in which something applies; bit 0 is January.
using MonthSet = std::bitset<12>;

inline constexpr std::size_t kMonthsPerYear = 12;
inline constexpr int kDaysPerYear = 365;  ///< the model's year has no 29 February
inline constexpr int kHoursPerDay = 24;
inline constexpr int kHoursPerYear = kDaysPerYear * kHoursPerDay;
inline constexpr int kMinutesPerHour = 60;
inline constexpr int kMinutesPerDay = kHoursPerDay * kMinutesPerHour;

/// What a device draws, as it was said: in amperes or in watts.
struct Draw {
  enum class Unit { amperes, watts };
  double value = 0;  ///< in `unit`; >= 0
  Unit unit = Unit::amperes;

  /// Current, A, at a supply of `volts`, V.
  [[nodiscard]] double current_a(double volts) const {
    return unit == Unit::amperes ? value : value / volts;
  }

  bool operator==(const Draw&) const = default;
};

/// Where the monthly figures come from, for the output to say.
struct ClimateOrigin {
  std::string sun;               ///< e.g. "shipped table, Oviedo"; "site file"
  double distance_km = 0;        ///< from the site to the place or nearest cell centre; 0 if own
  double uncertainty_share = 0;  ///< rms error of a shipped monthly insolation, 0..1; 0 if own
  std::string table = {};        ///< the shipped place or cells whatever else is from: "Oviedo"
  double table_km = 0;           ///< from the site to it, or to the nearest of the cells
  bool between = false;          ///< sun and temperature of `table` are between cells
  std::string rain_table = {};   ///< the shipped place or cell that the rain is from
  double rain_km = 0;            ///< from the site to it
  bool own_sun = false;          ///< insolation given in the site file
  bool own_temperature = false;  ///< temperatures given in the site file
  bool own_rain = false;         ///< rain given in the site file

  bool operator==(const ClimateOrigin&) const = default;
};

/// The site on the map and its twelve-month climate.
struct Place {
  std::string name;
  double latitude_deg;                      ///< -90..90, north positive
  double longitude_deg;                     ///< -180..180, east positive
  Monthly sun_horizontal_kwh_m2_day;        ///< mean daily global horizontal irradiation, >= 0
  Monthly air_temp_c;                       ///< monthly mean, deg C
  Monthly rain_mm{};                        ///< mm a month
  std::optional<double> elevation_m = {};   ///< above the sea; not every place's is known
  double utc_offset_h = 0;                  ///< clock time minus UTC, no summer time
  double albedo = 0.2;                      ///< share of sun the ground reflects, 0..1
  std::optional<double> record_low_c = {};  ///< coldest air ever, deg C
  /// Standard deviation of a day's sun over its month's mean, of the year's months together, 0..1;
  /// without it, what is foretold from sun, temperature and latitude.
  std::optional<double> day_spread_share = {};
  ClimateOrigin climate = {};

  bool operator==(const Place&) const = default;
};

/// Something between the sun and the panel: a hill, a tree, a wall.
struct Obstacle {
  double azimuth_from_deg;  ///< clockwise from north, 0..360
  double azimuth_to_deg;    ///< reached clockwise from `azimuth_from_deg`; may wrap past 360
  double elevation_deg;     ///< top edge above the horizon, 0..90
  MonthSet months = MonthSet().set();  ///< in leaf, say
  double blocks_share = 1;             ///< share of the light it stops, 0..1

  bool operator==(const Obstacle&) const = default;
};

/// The solar panels, all of one sort, as their labels say (at 1000 W/m2 and 25 deg C cells).
struct Panel {
  double power_w;                                     ///< rated power of each, W; >= 0
  int count = 1;                                      ///< panels in all
  int series = 1;                                     ///< panels in a string; divides `count`
  std::optional<double> vmp_v = {};                   ///< voltage at maximum power, each
  std::optional<double> imp_a = {};                   ///< current at maximum power, each
  std::optional<double> voc_v = {};                   ///< open-circuit voltage, each
  std::optional<double> isc_a = {};                   ///< short-circuit current, each
  std::optional<double> temp_coeff_power_pct_k = {};  ///< %/K, negative
  std::optional<double> temp_coeff_voc_pct_k = {};    ///< %/K, negative
  double noct_c = 45;          ///< cell temperature at 800 W/m2, 20 deg C air, deg C
  double tilt_deg;             ///< from horizontal, 0..90; `usual_tilt_deg`
  double azimuth_deg;          ///< the way it faces, clockwise from north, 0..360
  double losses_share = 0.10;  ///< dirt, mismatch, ageing; 0..1
  std::vector<Obstacle> shade = {};
};

enum class RegulatorKind { pwm, mppt, none };

/// A level at which the regulator acts: volts at the battery, or state of charge.
struct Threshold {
  enum class Unit { volts, state_of_charge };
  double value = 0;  ///< V, or 0..1
  Unit unit = Unit::volts;
};

/// The charge regulator between panel, battery and loads.
struct Regulator {
  RegulatorKind kind = RegulatorKind::pwm;
  Draw standby = {};               ///< what it takes itself, day and night
  double efficiency_share = 0.95;  ///< of an mppt converter, 0..1
  std::optional<double> max_current_a = {};
  std::optional<double> max_panel_voltage_v = {};
  std::optional<Threshold> cutoff = {};     ///< loads are cut off below this
  std::optional<Threshold> reconnect = {};  ///< and come back at this
  std::optional<double> absorption_v = {};  ///< end-of-charge voltage
};

/// A type of battery, by its place among those of data/batteries.json. It has no names here, so
/// that a new type is an object there and nothing else: `battery_kind("agm")` of battery_type.hpp.
enum class BatteryKind : unsigned char {};

/// One point of a cycle-life curve.
struct CyclePoint {
  double depth_share;  ///< depth of discharge of each cycle, 0..1
  double cycles;       ///< cycles until 80 % of the capacity is left
};

/// The battery bank: `parallel` strings of `series` units.
struct Battery {
  BatteryKind kind;
  double voltage_v = 12;    ///< nominal, each
  double capacity_ah;       ///< printed, each
  double rated_hours = 20;  ///< discharge time the printed capacity belongs to, h
  int parallel = 1;
  int series = 1;
  double
      floor_share;  ///< deepest discharge allowed, 0..1; usually `battery_type(kind).floor_share`
  double health_share = 1;  ///< share of the printed capacity left, 0..1
  /// State of charge when the first year of synthetic weather starts, 0..1; not given: as a year
  /// before leaves it.
  std::optional<double> start_share = {};
  std::optional<double> max_charge_current_a = {};  ///< of the whole bank
  std::optional<double> peukert = {};               ///< exponent, 1..2
  std::optional<double> self_discharge_pct_month = {};
  std::vector<CyclePoint> cycles = {};          ///< deepening; empty: the kind's usual curve
  std::optional<double> shelf_life_years = {};  ///< at 25 deg C
  std::optional<double> price = {};             ///< each, in whatever money

  [[nodiscard]] double bank_voltage_v() const { return voltage_v * series; }
  /// Printed capacity of the bank, Ah, times what its health leaves.
  [[nodiscard]] double bank_capacity_ah() const { return capacity_ah * parallel * health_share; }
};

/// On all the time.
struct AlwaysOn {
  bool operator==(const AlwaysOn&) const = default;
};

enum class When { any, day, night };

/// A time on each day, at no fixed hour: spread evenly over the hours of `when`.
struct PerDay {
  double minutes;  ///< 0..1440
  When when = When::any;

  bool operator==(const PerDay&) const = default;
};

/// One run on the clock; may pass midnight.
struct Run {
  double at_min;       ///< start, minutes after local midnight, 0..1440
  double for_minutes;  ///< 0..1440

  bool operator==(const Run&) const = default;
};

struct Runs {
  std::vector<Run> runs = {};

  bool operator==(const Runs&) const = default;
};

/// Minutes a day worked out from a water line's demand.
struct FromWater {
  std::string line;

  bool operator==(const FromWater&) const = default;
};

/// When a load runs.
using Schedule = std::variant<AlwaysOn, PerDay, Runs, FromWater>;

/// One kind of load; `count` of them.
struct Load {
  std::string name;
  Draw draw;  ///< each, while on
  int count = 1;
  Schedule schedule;
  MonthSet months = MonthSet().set();
  int every_days = 1;             ///< runs on day 1 of the year and every so many days after
  double start_factor = 1;        ///< inrush current over running current
  std::optional<Draw> idle = {};  ///< each, while off

  bool operator==(const Load&) const = default;
};

/// One cable, there and back counted by the program.
struct Cable {
  std::string name;
  std::string feeds;  ///< a load's name, "panel" or "battery"
  double length_m;    ///< one way
  std::optional<double> section_mm2 = {};
  double max_drop_share = 0.03;
};

/// What the lines draw from. Heights are above its floor.
struct Tank {
  double volume_l = 0;                         ///< when full
  std::optional<double> level_m = {};          ///< of the water when full
  std::optional<double> outlet_height_m = {};  ///< water below it stays in
  std::optional<double> roof_m2 = {};          ///< level area that drains into it
  std::optional<double> runoff_share = {};     ///< of the rain on the roof that arrives, 0..1
  std::vector<double> refill_l_month = {};     ///< from elsewhere; empty or 12 values

  bool operator==(const Tank&) const = default;
};

/// What keeps a line from siphoning on when its pump stands.
enum class SiphonValve { none, solenoid, air_break };

/// A pump by the two figures printed on it.
struct WaterPump {
  double flow_l_h;  ///< printed: at zero head
  double head_m;    ///< shut-off head

  bool operator==(const WaterPump&) const = default;
};

struct Tube {
  double length_m;
  double bore_mm;

  bool operator==(const Tube&) const = default;
};

/// Drippers, sprayers or misters, all of one sort.
struct Outlets {
  int count = 1;
  double flow_l_h;        ///< each, at `at_m` of head
  double at_m;            ///< head the printed outlet flow belongs to
  double exponent = 0.5;  ///< of the head in the flow, 0..1
  double height_m = 0;    ///< above the tank's floor

  bool operator==(const Outlets&) const = default;
};

struct PlantDemand {
  int plants;
  double each_l;  ///< a day

  bool operator==(const PlantDemand&) const = default;
};

struct CropDemand {
  double area_m2;
  std::string crop;

  bool operator==(const CropDemand&) const = default;
};

struct DailyVolume {
  double litres;

  bool operator==(const DailyVolume&) const = default;
};

struct WaterLine {
  std::string name;
  std::optional<WaterPump> pump = {};
  double lift_m = 0;  ///< height of the outlets above the water; negative below it
  std::optional<Tube> tube = {};
  std::optional<Outlets> outlets = {};
  std::optional<std::variant<PlantDemand, CropDemand, DailyVolume>> demand = {};
  SiphonValve valve = SiphonValve::none;

  bool operator==(const WaterLine&) const = default;
};

struct Water {
  std::optional<Tank> tank = {};
  std::vector<WaterLine> lines = {};

  bool operator==(const Water&) const = default;
};

/// What the grower wants of the system.
struct Aim {
  double autonomy_days = 3;
  std::optional<double> shortfall_days = {};  ///< a year; unset: 0 in mean weather, else 3
  std::optional<double> floor_share = {};     ///< unset: the battery's
};

/// A field given as a range, kept for the study of rough numbers.
struct RoughInput {
  std::string field;  ///< dotted path, e.g. `loads[0].draw`
  double low;         ///< in the field's base unit
  double high;
  std::string unit;  ///< symbol of that base unit
};

/// What an assumption is about.
enum class AssumptionKind {
  place,
  clock,
  shipped_climate,  ///< monthly figures of a shipped table
  weather_file,     ///< its years in place of monthly figures
  panel,
  regulator,
  battery,
  load,
  cable,
  water,
  unit  ///< of a bare number: its field's base unit
};

/// Something that was not given, and what was taken.
struct Assumption {
  AssumptionKind kind;
  std::string text;  ///< a sentence or two

  bool operator==(const Assumption&) const = default;
};

/// A site: what the reader returns and the model takes. Where a value is out of range the model
/// refuses it (validate.hpp).
struct Site {
  std::string name;
  Place place;
  Panel panel;
  Regulator regulator;
  Battery battery;
  std::vector<Load> loads = {};
  std::vector<Cable> wiring = {};
  std::optional<Water> water = {};
  Aim aim;
  std::vector<RoughInput> rough = {};  ///< fields given as a range; the middle is used
  std::vector<Assumption> assumptions = {};
};

}  // namespace amptally::inline v0_1
