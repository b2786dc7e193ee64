#include "fuzz/promises.hpp"

#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "amptally/balance.hpp"
#include "amptally/error.hpp"
#include "amptally/findings.hpp"
#include "amptally/validate.hpp"
#include "amptally/water.hpp"
#include "amptally/wiring.hpp"

namespace amptally::fuzz {
namespace {

void require_within(double value, double low, double high, const std::string& what) {
  require(value >= low && value <= high,  // not a number fails too
          fmt::format("{}: {} is in {}..{}", what, value, low, high));
}

void require_balance(const Balance& balance) {
  for (const MonthBalance& month : balance.months) {
    require_finite(month.sun_panel_kwh_m2_day, "sun of a month");
    require_finite(month.charge_ah_day, "charge of a month");
    require_finite(month.use_ah_day, "use of a month");
    require_finite(month.shortfall_wh, "shortfall of a month");
    require(!(month.autonomy_days < 0) && !std::isnan(month.autonomy_days), "autonomy is no debt");
  }
  require_within(balance.year.deepest_discharge, -1e-9, 1 + 1e-9, "deepest discharge");
  require_within(balance.year.served_share, -1e-9, 1 + 1e-9, "share served");
  require_within(balance.year.shortfall_days, 0, kDaysPerYear, "shortfall days");
  require_finite(balance.year.battery_life_years, "battery life");
  for (const Use& use : balance.uses) {
    require_finite(use.ah_day, "use of " + use.name);
    require_within(use.share, 0, 1 + 1e-9, "share of " + use.name);
  }
  // What is served is the difference of what was asked and what was not to be had.
  const double through_ah = balance.ledger.charge_ah + balance.year.use_ah + 1;
  require_within(balance.ledger.error_ah() / through_ah, -1e-6, 1e-6, "what the ledger misses");
}

void require_cable(const CableCheck& check) {
  require_finite(check.current_a, "current in " + check.cable.name);
  require_finite(check.drop_v, "drop along " + check.cable.name);
}

std::string texts_of(const io::ReadResult& result) {
  std::string texts;
  for (const io::Problem& problem : result.problems) {
    texts += problem.field + ": " + problem.message + "\n";
  }
  return texts;
}

}  // namespace

void require(bool kept, const std::string& promise) {
  if (!kept) throw std::logic_error("not kept: " + promise);
}

void require_finite(double value, const std::string& what) {
  require(std::isfinite(value), what + " is finite");
}

void require_message(const std::string& message) {
  require(!message.empty(), "a message says something");
  require(message.find_first_of("\n\r") == message.npos, "one line: " + message);
}

void require_answer(const io::ReadResult& result) {
  require(result.site.has_value() == result.problems.empty(), "either a site or problems");
  for (const io::Problem& problem : result.problems) require_message(to_text(problem));
}

void require_same(const io::ReadResult& one, const io::ReadResult& other) {
  require(texts_of(one) == texts_of(other),
          "the same problems: " + texts_of(one) + "and " + texts_of(other));
  if (!one.site || !other.site) return;
  try {
    require(simulate(*one.site).balance.year == simulate(*other.site).balance.year, "one year");
  } catch (const Error& error) {
    require_message(error.what());
  }
}

void require_in_range(const Site& site) {
  const std::vector<SiteProblem> problems = validate(site);
  require(
      problems.empty(),
      problems.empty() ? "" : problems.front().field + " is in range: " + problems.front().message);
}

void require_year(const Site& site) {
  try {
    const Simulation simulation = simulate(site);
    require_balance(simulation.balance);
    for (const Finding& finding : site_findings(site, simulation)) require_message(finding.text);
    for (const CableCheck& check : check_wiring(site, simulation)) require_cable(check);
    if (site.water) (void)water_findings(site, study_water(site));
  } catch (const Error& error) {
    require_message(error.what());
  }
}

}  // namespace amptally::fuzz
