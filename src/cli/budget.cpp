#include "report/budget.hpp"

#include <optional>

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {

Outcome run_command(const BudgetOptions& options, const Surroundings& around) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  Site site = good_site(options.site, around.in);
  const WeatherChoice weather = weather_choice(options.weather, around.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));

  Simulation simulation = prepare(site);
  simulation.balance = balance_over(site, simulation, weather);
  std::optional<Balance> changeable;
  if (!options.weather.mode) {
    changeable = balance_over(site, simulation, synthetic_years(options.weather));
  }
  const Balance balance = simulation.balance;
  // What a careful friend would point out is about the weather that is hardest on the system.
  if (changeable) simulation.balance = *changeable;
  const std::optional<RoughStudy> rough =
      rough_study(site, changeable ? synthetic_years(options.weather) : weather,
                  options.exact_climate, options.output);
  const report::Budget budget{.site = site,
                              .balance = balance,
                              .changeable = changeable ? &*changeable : nullptr,
                              .weather_file = weather.series ? weather.series->path : "",
                              .findings = find_all(site, simulation),
                              .rough = rough ? &*rough : nullptr,
                              .daily = options.daily};
  return {.text = budget_report(budget, look_of(options.output, around.terminal)),
          .file = options.output.file,
          .status = budget.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
