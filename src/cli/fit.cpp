#include "report/fit.hpp"

#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

struct FitOptions : StudyOptions {
  std::vector<std::string> loads;  ///< in one line each, in the order given
};

CommandResult run_fit(const FitOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  Site site = good_site_with_loads(options.site, options.loads, context.in);
  const WeatherChoice weather = study_weather(options.weather, context.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  const Fit fit = fit_loads(site, options.loads.size(), weather);
  const std::optional<RoughStudy> rough =
      rough_study(site, weather, options.exact_climate, options.output);
  const report::FitAnswer answer{.site = site,
                                 .added = options.loads.size(),
                                 .fit = fit,
                                 .weather_file = weather_file(weather),
                                 .rough = rough ? &*rough : nullptr};
  return {.text = fit_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = fit.fits ? Status::done : Status::aim_missed};
}

}  // namespace

Command fit_command() {
  Command command{
      .name = "fit",
      .help = "Does one more load fit, and how much of it?",
      .examples =
          "  amptally fit terrace.json --load 'valve: 300 mA, 20 min/day'\n"
          "  amptally fit terrace.json --load 'pump: 2 A, 10 min/day at 06:30 Apr-Sep'"};
  FitOptions& options = command.runs(run_fit);
  add_site(command, options.site);
  command.options.push_back({.names = {"--load"},
                             .value = "'NAME: DRAW, TIME/day [at HH:MM] [MONTHS]'",
                             .help = "a new load; may be repeated",
                             .is_required = true,
                             .is_repeatable = true,
                             .take = any_texts(options.loads)});
  add_study(command, options, "print the answer alone");
  return command;
}

}  // namespace amptally::cli
