#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "amptally/load.hpp"
#include "amptally/regulator.hpp"
#include "amptally/weather.hpp"

namespace amptally {

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

struct MonthBalance {
  double sun_horizontal_kwh_m2_day = 0;
  double sun_panel_kwh_m2_day = 0;
  double air_temp_c = 0;
  double charge_ah_day = 0;
  double use_ah_day = 0;
  double autonomy_days = 0;  ///< infinite where nothing is used
  double deepest_discharge = 0;
  int floor_days = 0;
  int shortfall_days = 0;
  double shortfall_wh = 0;

  [[nodiscard]] double balance_ah_day() const { return charge_ah_day - use_ah_day; }
};

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

  [[nodiscard]] double standby_share() const { return use_ah > 0 ? standby_ah / use_ah : 0; }
};

/// One line of where the amp-hours are asked for.
struct Use {
  std::string name;  ///< a load's name, or "regulator standby"
  double ah_day;     ///< mean over the year
  double wh_day;     ///< at the bank's nominal voltage
  double share;      ///< of all use, 0..1
};

/// What the grower wanted, with defaults filled in.
struct ResolvedAim {
  double autonomy_days;
  double shortfall_days;
  double floor_share;
};

/// A year of the whole system.
struct Balance {
  YearBalance year;
  std::array<MonthBalance, 12> months;
  std::vector<DayBalance> days;  ///< 365
  std::vector<Use> uses;         ///< largest first, standby among them
  Ledger ledger;                 ///< of the reported year
  ResolvedAim aim;
  bool autonomy_met = false;
  bool shortfall_met = false;
  bool floor_met = false;
  int years_to_steady = 0;  ///< years run until the end met the start
  double yearly_change_share =
      0;  ///< state of charge at the end of the reported year minus at its start
  std::vector<std::string> assumptions;  ///< the site's, the panel's and the loads' together

  [[nodiscard]] bool holds() const { return autonomy_met && shortfall_met && floor_met; }
};

/// The parts of a run, each made from the one before, kept for findings and studies.
struct Simulation {
  SunYear sun;
  PanelRating rating;
  ChargeOffer offer;
  LoadProfile loads;
  LoadSwitch load_switch;
  Balance balance;
};

/// The year of a site in its mean weather, repeated until it ends as it began.
///
/// @throws InputError from `mean_year` and `load_profile`
[[nodiscard]] Simulation simulate_mean_year(const Site& site);

}  // namespace amptally
