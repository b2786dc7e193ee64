#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/load_profile.hpp"
#include "amptally/regulator.hpp"
#include "amptally/validate.hpp"
#include "amptally/wear.hpp"
#include "amptally/weather.hpp"

namespace amptally::inline v0_1 {

/// Where every amp-hour of a year went. `charge - turned_away - charging_loss - self_discharge -
/// served = stored_change`, to rounding.
struct Ledger {
  double charge_ah = 0;         ///< offered by the regulator
  double turned_away_ah = 0;    ///< offered, but the battery was full, at its limit, or frozen out
  double charging_loss_ah = 0;  ///< gassed or warmed away while charging
  double self_discharge_ah = 0;
  double served_ah = 0;         ///< to loads and standby
  double stored_change_ah = 0;  ///< charge in the battery at the end minus at the start

  /// What is left over when the books are closed; 0 to rounding.
  [[nodiscard]] double error_ah() const {
    return charge_ah - turned_away_ah - charging_loss_ah - self_discharge_ah - served_ah -
           stored_change_ah;
  }
};

enum class WeatherMode {
  mean,       ///< the mean year, repeated until it ends as it began
  synthetic,  ///< years of dull and clear spells, one after the other
  file,       ///< the years of a series, repeated until they end as they began
};

/// In which weather a system is run.
struct WeatherChoice {
  WeatherMode mode = WeatherMode::mean;
  int years = 40;                                    ///< of synthetic weather, 1..1000
  std::uint64_t seed = 1;                            ///< of synthetic weather
  std::shared_ptr<const WeatherSeries> series = {};  ///< for `file`
  int threads = 1;                                   ///< 1 and up; results do not depend on it
};

/// Everything that is wrong with a site and the weather it is to be run in: what is wrong with the
/// site, and years or threads below 1, a file without a series, a series whose columns do not go
/// with its years or hold what is no number.
[[nodiscard]] std::vector<SiteProblem> validate(const Site& site, const WeatherChoice& weather);

/// @throws InputError with the first problem and how many more there are
void require_valid(const Site& site, const WeatherChoice& weather);

/// One day. Discharge is the share of the capacity available at the day's temperature and the
/// system's rate that has been taken out: 0 full, 1 empty. State of charge is 1 minus that.
struct DayBalance {
  double sun_horizontal_kwh_m2 = 0;
  double sun_panel_kwh_m2 = 0;
  double charge_ah = 0;
  double use_ah = 0;
  double state_of_charge_min = 1;
  double state_of_charge_max = 0;
  double state_of_charge_end = 1;
  double shortfall_ah = 0;
  double shortfall_wh = 0;
};

/// One month; over several years, the mean of the years.
struct MonthBalance {
  double sun_horizontal_kwh_m2_day = 0;
  double sun_panel_kwh_m2_day = 0;
  double air_temp_c = 0;
  double charge_ah_day = 0;
  double use_ah_day = 0;
  double autonomy_days = 0;  ///< infinite where nothing is used
  double deepest_discharge = 0;
  double floor_days = 0;
  double shortfall_days = 0;
  double shortfall_wh = 0;

  [[nodiscard]] double balance_ah_day() const { return charge_ah_day - use_ah_day; }
};

/// One year; over several years, the mean of the years.
struct YearBalance {
  double sun_horizontal_kwh_m2 = 0;
  double sun_panel_kwh_m2 = 0;
  double charge_ah = 0;
  double use_ah = 0;
  double standby_ah = 0;
  double autonomy_days = 0;         ///< the lowest month's
  int autonomy_month = 0;           ///< 0..11, that month
  double deepest_discharge = 0;     ///< the year's deepest
  double mean_daily_discharge = 0;  ///< mean over the days of highest minus lowest state of charge
  double floor_days = 0;
  double shortfall_days = 0;
  double shortfall_wh = 0;
  double served_share = 1;             ///< of the energy asked
  std::optional<int> first_short_day;  ///< 1..365: the day that opens the short season
  double battery_life_years = 0;
  int longest_dull_days = 0;    ///< longest run, in all years, that brought less than was used
  double short_year_share = 0;  ///< share of years with a shortfall day

  [[nodiscard]] double balance_ah() const { return charge_ah - use_ah; }
  [[nodiscard]] double standby_share() const { return use_ah > 0 ? standby_ah / use_ah : 0; }
  bool operator==(const YearBalance&) const = default;
};

/// What a year, or the mean of several, meets of the aim.
struct Judgement {
  bool autonomy_met = false;
  bool shortfall_met = false;
  bool floor_met = false;

  [[nodiscard]] bool holds() const { return autonomy_met && shortfall_met && floor_met; }
};

/// A year, and whether it is what the grower wanted.
struct JudgedYear {
  Judgement met;
  YearBalance year;  ///< of many balances at once: without the battery's life
};

/// What the regulator's own draw is called among the uses.
inline constexpr std::string_view kStandbyUse = "regulator standby";

/// One line of where the amp-hours are asked for.
struct Use {
  std::string name;  ///< a load's name, or `kStandbyUse`
  double ah_day;     ///< mean over the year
  double wh_day;     ///< at the bank's nominal voltage
  double share;      ///< of all use, 0..1
};

/// Nine years in ten lie above p10, one in ten above p90.
struct Spread {
  double p10;
  double p50;
  double p90;
};

/// How the years differ.
struct YearSpread {
  Spread shortfall_days;
  Spread shortfall_wh;
  Spread deepest_discharge;
  Spread served_share;
  Spread autonomy_days;
};

/// What the grower wanted, with defaults filled in.
struct ResolvedAim {
  double autonomy_days;
  double shortfall_days;
  double floor_share;
};

/// A year of the whole system, or the mean of several.
struct Balance {
  WeatherMode weather = WeatherMode::mean;
  int years = 1;
  std::uint64_t seed = 1;  ///< of synthetic weather
  YearBalance year;
  std::array<MonthBalance, 12> months;
  std::optional<YearSpread> spread;  ///< over several years
  /// 365. Over several years the means, but the lowest state of charge of a day is the one that one
  /// year in ten goes below.
  std::vector<DayBalance> days;
  std::vector<Use> uses;  ///< largest first, standby among them
  Ledger ledger;          ///< of the reported years together
  Life life;
  ResolvedAim aim;
  bool autonomy_met = false;
  bool shortfall_met = false;
  bool floor_met = false;
  int years_to_steady = 0;        ///< years run until the end met the start; 0 in synthetic weather
  double sinks_share_a_year = 0;  ///< charge lost from one year to the next, over capacity; 0 if it
                                  ///< comes back
  std::vector<Assumption> assumptions;  ///< the site's, the panel's and the loads' together

  [[nodiscard]] bool holds() const { return autonomy_met && shortfall_met && floor_met; }
};

/// The parts of a run, each made from the one before, kept for findings and studies. Sun and offer
/// are the mean year's, whatever the weather of the balance.
struct Simulation {
  SiteSky sky;
  SunYear sun;
  PanelRating rating;
  ChargeOffer offer;
  LoadProfile loads;
  LoadSwitch load_switch;
  Balance balance;
};

/// All parts of a run but its balance.
/// @throws InputError from `validate`, `mean_days` and `load_profile`
[[nodiscard]] Simulation prepare(const Site& site);

/// The balance of a prepared site in the chosen weather.
///
/// Mean weather and files repeat until they end as they began (at most 60 times). Synthetic weather
/// runs one year in, then its years one after the other.
/// @param site      for `file`: one whose place is `place_of` the series
/// @throws InputError from `validate`, DataError from `series_sun_year`
[[nodiscard]] Balance simulate_prepared(const Site& site, const Simulation& prepared,
                                        const WeatherChoice& weather);

/// `prepare` and `simulate_prepared` in one.
[[nodiscard]] Simulation simulate(const Site& site, const WeatherChoice& weather = {});

}  // namespace amptally::inline v0_1
