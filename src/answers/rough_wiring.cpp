#include "amptally/rough_wiring.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "amptally/error.hpp"
#include "amptally/validate.hpp"
#include "amptally/wiring.hpp"

#include "answers/rough_cases.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {
namespace {

using Checks = std::vector<CableCheck>;

// Nothing where a water line cannot run its load within the day.
std::optional<Checks> checks_of(const Site& site) {
  try {
    return check_wiring(site, prepare(site));
  } catch (const Error&) {
    return std::nullopt;
  }
}

template <class Figure>
Spread spread_over(const std::vector<Checks>& cases, std::size_t i, Figure figure) {
  std::vector<double> values;
  for (const Checks& checks : cases) values.push_back(figure(checks[i]));
  return spread_of(values);
}

}  // namespace

RoughWiring study_rough_wiring(const Site& site, const RoughOptions& options) {
  require_valid(site);
  RoughWiring result{.cases = options.cases};
  std::vector<Checks> cases;
  for (const Site& one : rough_cases(site, options.cases, true).sites) {
    if (std::optional<Checks> checks = checks_of(one)) cases.push_back(std::move(*checks));
  }
  result.failed_cases = options.cases - static_cast<int>(cases.size());
  const auto share_of_cases = [&](auto holds) {
    return static_cast<double>(std::count_if(cases.begin(), cases.end(), holds)) / options.cases;
  };
  const auto does = [](const CableCheck& check) { return check.does(); };
  result.holds_share = share_of_cases(
      [&](const Checks& checks) { return std::all_of(checks.begin(), checks.end(), does); });
  if (cases.empty()) return result;
  for (std::size_t i = 0; i < site.wiring.size(); ++i) {
    result.cables.push_back(
        {.name = site.wiring[i].name,
         .current_a = spread_over(cases, i, [](const CableCheck& c) { return c.current_a; }),
         .drop_share = spread_over(cases, i, [](const CableCheck& c) { return c.drop_share; }),
         .loss_wh_day = spread_over(cases, i, [](const CableCheck& c) { return c.loss_wh_day; }),
         .holds_share = share_of_cases([&](const Checks& checks) { return does(checks[i]); })});
  }
  return result;
}

}  // namespace amptally::inline v0_1
