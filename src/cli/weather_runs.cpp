#include "cli/weather_runs.hpp"

#include <utility>

#include "amptally/findings.hpp"

#include "cli/weather_input.hpp"

namespace amptally::cli {

WeatherRuns run_in_weather(Site site, const WeatherOptions& options, std::istream& in) {
  const WeatherChoice weather = weather_choice(options, in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  Simulation simulation = prepare(site);
  simulation.balance = simulate_prepared(site, simulation, weather);
  WeatherRuns runs{.site = std::move(site),
                   .weather = weather,
                   .hardest = weather,
                   .balance = {},
                   .changeable = std::nullopt,
                   .simulation = std::move(simulation)};
  runs.balance = runs.simulation.balance;
  if (options.mode) return runs;
  runs.hardest = synthetic_years(options);
  runs.changeable = simulate_prepared(runs.site, runs.simulation, runs.hardest);
  runs.simulation.balance = *runs.changeable;
  return runs;
}

report::Budget WeatherRuns::budget(const RoughStudy* rough) const {
  // What a careful friend would point out is about the weather that is hardest on the system.
  return {.site = site,
          .balance = balance,
          .changeable = changeable ? &*changeable : nullptr,
          .weather_file = weather_file(weather),
          .findings = site_findings(site, simulation),
          .rough = rough};
}

}  // namespace amptally::cli
