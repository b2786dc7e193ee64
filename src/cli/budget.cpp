#include "report/budget.hpp"

#include <optional>

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_runs.hpp"

namespace amptally::cli {

CommandResult run_command(const BudgetOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  const Years years = run_years(good_site(options.site, context.in), options.weather, context.in);
  const std::optional<RoughStudy> rough =
      rough_study(years.site, years.hardest, options.exact_climate, options.output);
  report::Budget budget = years.budget(rough ? &*rough : nullptr);
  budget.daily = options.daily;
  return {.text = budget_report(budget, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = budget.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
