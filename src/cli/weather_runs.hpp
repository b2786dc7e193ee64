#pragma once

#include <iosfwd>
#include <optional>

#include "amptally/balance.hpp"
#include "amptally/rough.hpp"

#include "cli/options.hpp"
#include "report/budget.hpp"

namespace amptally::cli {

/// A site run through the weather asked for; where none was, through the mean year and changeable
/// years beside it.
struct WeatherRuns {
  Site site;
  WeatherChoice weather;  ///< of `balance`
  WeatherChoice hardest;  ///< that of `simulation`
  Balance balance;
  std::optional<Balance> changeable;  ///< where no weather was asked for
  Simulation simulation;              ///< with the balance that is hardest on the system

  /// What `budget` tells of them. It points into these runs, and to `rough`.
  [[nodiscard]] report::Budget budget(const RoughStudy* rough) const;
};

/// @throws as `weather_choice` and `simulate_prepared`
[[nodiscard]] WeatherRuns run_in_weather(Site site, const WeatherOptions& options,
                                         std::istream& in);

}  // namespace amptally::cli
