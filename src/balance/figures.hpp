#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <optional>
#include <string_view>
#include <type_traits>
#include <variant>

#include "amptally/balance.hpp"

#include "balance/member_count.hpp"

/// The figures of a day, a month and a year, one row each. Means over several years, JSON, CSV and
/// the columns of tables are made from these rows. A new figure is a member in balance.hpp, a row
/// here, and the line that works it out (`by_month` and `over_year` in year_summary.cpp, `year_of`
/// in batch/block_run.cpp); a member without a row does not compile.
namespace amptally::inline v0_1 {

/// What several years together have of a figure.
enum class OverYears {
  mean,
  same,      ///< it is the same in every year
  together,  ///< `YearSummary::finish` works it out of all the years at once
};

/// How a figure is rounded for people.
enum class Rounding {
  whole,
  tenths,
  hundredths,
  charge,      ///< to what the table's largest charge needs
  days,        ///< whole in one year; tenths where it is a mean of several
  percent,     ///< a share, shown in per cent
  percent_10,  ///< the same in tenths
};

/// Where a figure is kept, or how it is worked out of others.
template <class Record>
using FigureValue = std::variant<double Record::*, int Record::*, std::optional<int> Record::*,
                                 double (Record::*)() const>;

/// That value in a record; not a number where there is none.
template <class Record>
[[nodiscard]] double value_in(const Record& record, const FigureValue<Record>& value) {
  if (const auto* worked_out = std::get_if<double (Record::*)() const>(&value)) {
    return (record.**worked_out)();
  }
  if (const auto* number = std::get_if<double Record::*>(&value)) return record.**number;
  if (const auto* count = std::get_if<int Record::*>(&value)) return record.**count;
  const std::optional<int>& count = record.*std::get<std::optional<int> Record::*>(value);
  return count ? *count : std::numeric_limits<double>::quiet_NaN();
}

/// What the year's row shows under a month's figure.
struct YearTotal {
  std::optional<FigureValue<YearBalance>> value = {};  ///< unset: nothing
  bool as_mean_day = false;                            ///< a sum, told as its mean day
};

template <class Record_>
struct Figure {
  using Record = Record_;

  FigureValue<Record> value;
  std::string_view key = {};  ///< in JSON and CSV, ends in its unit; empty: not told to machines
  OverYears over_years = OverYears::mean;
  bool needs_cycles = false;   ///< not there where a battery's cycles are not counted: in `Study`
  std::string_view head = {};  ///< in tables, '\n' stacks it; empty: not a column, or a row, of one
  std::string_view unit = {};  ///< beside it
  Rounding rounding = Rounding::whole;
  YearTotal total = {};  ///< of a month's figure

  /// A whole number by its nature.
  [[nodiscard]] constexpr bool is_whole() const {
    return std::holds_alternative<int Record::*>(value) ||
           std::holds_alternative<std::optional<int> Record::*>(value);
  }
};

// In the order in which JSON and tables have them.
inline constexpr auto kDayFigures =
    std::to_array<Figure<DayBalance>>({{.value = &DayBalance::sun_horizontal_kwh_m2},
                                       {.value = &DayBalance::sun_panel_kwh_m2,
                                        .key = "sun_panel_kwh_m2",
                                        .head = "Sun on\npanel",
                                        .unit = "kWh/m²",
                                        .rounding = Rounding::hundredths},
                                       {.value = &DayBalance::charge_ah,
                                        .key = "charge_ah",
                                        .head = "Charge",
                                        .unit = "Ah",
                                        .rounding = Rounding::charge},
                                       {.value = &DayBalance::use_ah,
                                        .key = "use_ah",
                                        .head = "Use",
                                        .unit = "Ah",
                                        .rounding = Rounding::charge},
                                       {.value = &DayBalance::state_of_charge_min,
                                        .key = "state_of_charge_min",
                                        .over_years = OverYears::together,
                                        .head = "Lowest\ncharge left",
                                        .unit = "%",
                                        .rounding = Rounding::percent},
                                       {.value = &DayBalance::state_of_charge_max},
                                       {.value = &DayBalance::state_of_charge_end,
                                        .key = "state_of_charge_end",
                                        .head = "Charge left\nat midnight",
                                        .unit = "%",
                                        .rounding = Rounding::percent},
                                       {.value = &DayBalance::shortfall_ah},
                                       {.value = &DayBalance::shortfall_wh,
                                        .key = "shortfall_wh",
                                        .head = "Not\nserved",
                                        .unit = "Wh",
                                        .rounding = Rounding::tenths}});

inline constexpr auto kMonthFigures = std::to_array<Figure<MonthBalance>>(
    {{.value = &MonthBalance::sun_horizontal_kwh_m2_day,
      .key = "sun_horizontal_kwh_m2_day",
      .head = "Sun on\nground",
      .unit = "kWh/m²",
      .rounding = Rounding::hundredths,
      .total = {.value = &YearBalance::sun_horizontal_kwh_m2, .as_mean_day = true}},
     {.value = &MonthBalance::sun_panel_kwh_m2_day,
      .key = "sun_panel_kwh_m2_day",
      .head = "Sun on\npanel",
      .unit = "kWh/m²",
      .rounding = Rounding::hundredths,
      .total = {.value = &YearBalance::sun_panel_kwh_m2, .as_mean_day = true}},
     {.value = &MonthBalance::air_temp_c, .key = "air_temp_c", .head = "Air", .unit = "°C"},
     {.value = &MonthBalance::charge_ah_day,
      .key = "charge_ah_day",
      .head = "Charge",
      .unit = "Ah",
      .rounding = Rounding::charge,
      .total = {.value = &YearBalance::charge_ah, .as_mean_day = true}},
     {.value = &MonthBalance::use_ah_day,
      .key = "use_ah_day",
      .head = "Use",
      .unit = "Ah",
      .rounding = Rounding::charge,
      .total = {.value = &YearBalance::use_ah, .as_mean_day = true}},
     {.value = &MonthBalance::balance_ah_day,
      .key = "balance_ah_day",
      .head = "Balance",
      .unit = "Ah",
      .rounding = Rounding::charge,
      .total = {.value = &YearBalance::balance_ah, .as_mean_day = true}},
     {.value = &MonthBalance::autonomy_days,
      .key = "autonomy_days",
      .head = "Autonomy",
      .unit = "days",
      .rounding = Rounding::tenths,
      .total = {.value = &YearBalance::autonomy_days}},
     {.value = &MonthBalance::deepest_discharge,
      .key = "deepest_discharge",
      .head = "Deepest\ntaken",
      .unit = "%",
      .rounding = Rounding::percent,
      .total = {.value = &YearBalance::deepest_discharge}},
     {.value = &MonthBalance::floor_days,
      .key = "floor_days",
      .head = "Below\nfloor",
      .unit = "days",
      .rounding = Rounding::days,
      .total = {.value = &YearBalance::floor_days}},
     {.value = &MonthBalance::shortfall_days,
      .key = "shortfall_days",
      .head = "Short",
      .unit = "days",
      .rounding = Rounding::days,
      .total = {.value = &YearBalance::shortfall_days}},
     {.value = &MonthBalance::shortfall_wh,
      .key = "shortfall_wh",
      .head = "Not\nserved",
      .unit = "Wh",
      .total = {.value = &YearBalance::shortfall_wh}}});

// A year's heads are of rows: where years are compared, each figure has a line.
inline constexpr auto kYearFigures = std::to_array<Figure<YearBalance>>(
    {{.value = &YearBalance::sun_horizontal_kwh_m2, .key = "sun_horizontal_kwh_m2"},
     {.value = &YearBalance::sun_panel_kwh_m2, .key = "sun_panel_kwh_m2"},
     {.value = &YearBalance::charge_ah, .key = "charge_ah"},
     {.value = &YearBalance::use_ah, .key = "use_ah"},
     {.value = &YearBalance::standby_ah, .key = "standby_ah"},
     {.value = &YearBalance::standby_share, .key = "standby_share"},
     {.value = &YearBalance::autonomy_days,
      .key = "autonomy_days",
      .head = "Autonomy",
      .unit = "days",
      .rounding = Rounding::tenths},
     {.value = &YearBalance::autonomy_month, .over_years = OverYears::same},
     {.value = &YearBalance::deepest_discharge,
      .key = "deepest_discharge",
      .head = "Deepest taken",
      .unit = "%",
      .rounding = Rounding::percent},
     {.value = &YearBalance::mean_daily_discharge, .key = "mean_daily_discharge"},
     {.value = &YearBalance::floor_days,
      .key = "floor_days",
      .head = "Days below the floor",
      .rounding = Rounding::days},
     {.value = &YearBalance::shortfall_days,
      .key = "shortfall_days",
      .head = "Short days",
      .rounding = Rounding::days},
     {.value = &YearBalance::shortfall_wh,
      .key = "shortfall_wh",
      .head = "Not served",
      .unit = "Wh"},
     {.value = &YearBalance::served_share,
      .key = "served_share",
      .head = "Served",
      .unit = "%",
      .rounding = Rounding::percent_10},
     {.value = &YearBalance::first_short_day,
      .key = "first_short_day",
      .over_years = OverYears::together},
     {.value = &YearBalance::battery_life_years,
      .key = "battery_life_years",
      .over_years = OverYears::together,
      .needs_cycles = true,
      .head = "Battery life",
      .unit = "years",
      .rounding = Rounding::tenths},
     {.value = &YearBalance::longest_dull_days,
      .key = "longest_dull_days",
      .over_years = OverYears::together},
     {.value = &YearBalance::short_year_share, .key = "short_year_share"}});

/// A figure of a year whose spread over the years is told.
struct SpreadFigure {
  Spread YearSpread::*spread;
  double YearBalance::*figure;
};

inline constexpr auto kSpreadFigures =
    std::to_array<SpreadFigure>({{&YearSpread::shortfall_days, &YearBalance::shortfall_days},
                                 {&YearSpread::shortfall_wh, &YearBalance::shortfall_wh},
                                 {&YearSpread::deepest_discharge, &YearBalance::deepest_discharge},
                                 {&YearSpread::served_share, &YearBalance::served_share},
                                 {&YearSpread::autonomy_days, &YearBalance::autonomy_days}});

/// The row of a year's figure.
[[nodiscard]] constexpr const Figure<YearBalance>& year_figure(double YearBalance::*member) {
  for (const Figure<YearBalance>& figure : kYearFigures) {
    if (figure.value == FigureValue<YearBalance>(member)) return figure;
  }
  return kYearFigures.front();  // not reached: each member has a row
}

/// Whether each member of a record has one row.
template <const auto& kFigures>
[[nodiscard]] consteval bool each_member_has_a_row() {
  using Record = typename std::remove_cvref_t<decltype(kFigures)>::value_type::Record;
  std::size_t members = 0;
  for (std::size_t i = 0; i < kFigures.size(); ++i) {
    const auto& value = kFigures[i].value;
    for (std::size_t j = 0; j < i; ++j) {
      if (kFigures[j].value == value) return false;
    }
    if (!std::holds_alternative<double (Record::*)() const>(value)) ++members;
  }
  return members == member_count<Record>();
}
static_assert(each_member_has_a_row<kDayFigures>(), "give the new member of DayBalance a row");
static_assert(each_member_has_a_row<kMonthFigures>(), "give the new member of MonthBalance a row");
static_assert(each_member_has_a_row<kYearFigures>(), "give the new member of YearBalance a row");
static_assert(kSpreadFigures.size() == member_count<YearSpread>(),
              "give the new member of YearSpread a row");

}  // namespace amptally::inline v0_1
