#include "cli/weather_runs.hpp"

#include <utility>

#include "amptally/findings.hpp"

#include "cli/weather_input.hpp"

namespace amptally::cli {

Years run_years(Site site, const WeatherOptions& options, std::istream& in) {
  const WeatherChoice weather = weather_choice(options, in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  Simulation simulation = prepare(site);
  simulation.balance = simulate_prepared(site, simulation, weather);
  Years years{.site = std::move(site),
              .weather = weather,
              .hardest = weather,
              .balance = {},
              .changeable = std::nullopt,
              .simulation = std::move(simulation)};
  years.balance = years.simulation.balance;
  if (options.mode) return years;
  years.hardest = synthetic_years(options);
  years.changeable = simulate_prepared(years.site, years.simulation, years.hardest);
  years.simulation.balance = *years.changeable;
  return years;
}

report::Budget Years::budget(const RoughStudy* rough) const {
  // What a careful friend would point out is about the weather that is hardest on the system.
  return {.site = site,
          .balance = balance,
          .changeable = changeable ? &*changeable : nullptr,
          .weather_file = weather_file(weather),
          .findings = site_findings(site, simulation),
          .rough = rough};
}

}  // namespace amptally::cli
