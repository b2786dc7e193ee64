#include "report/budget.hpp"

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_runs.hpp"

namespace amptally::cli {
namespace {

struct BudgetOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  bool daily = false;
  bool exact_climate = false;  ///< as in StudyOptions
};

CommandResult run_budget(const BudgetOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  const WeatherRuns runs =
      run_in_weather(good_site(options.site, context.in), options.weather, context.in);
  const std::optional<RoughStudy> rough =
      rough_study(runs.site, runs.hardest, options.exact_climate, options.output);
  report::Budget budget = runs.budget(rough ? &*rough : nullptr);
  budget.daily = options.daily;
  return {.text = budget_report(budget, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = budget.holds() ? Status::done : Status::aim_missed};
}

}  // namespace

Command budget_command() {
  Command command{.name = "budget",
                  .help = "Does the sun carry the draw here, month by month?",
                  .examples =
                      "  amptally budget terrace.json\n"
                      "  amptally budget terrace.json --set battery.capacity='24 Ah' --quiet\n"
                      "  amptally budget terrace.json --weather synthetic --years 200"};
  BudgetOptions& options = command.runs(run_budget);
  add_site(command, options.site);
  add_format(command, options.output);
  add_style(command, options.output, "print the verdict alone");
  add_flag(command, "--daily", "all 365 days too (csv: in place of the months)", options.daily);
  command.options.push_back(
      {.names = {"--no-chart"},
       .help = "do not draw the charge over the year",
       .take = [&output = options.output](const std::string&) { output.chart = false; }});
  add_exact_climate(command, options.exact_climate);
  add_weather(command, options.weather, "mean, with synthetic beside");
  return command;
}

}  // namespace amptally::cli
