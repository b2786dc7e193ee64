#include "report/levers.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

CommandResult run_levers(const StudyOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  Site site = good_site(options.site, context.in);
  const WeatherChoice weather = study_weather(options.weather, context.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  const LeverStudy study = study_levers(site, weather);
  const std::optional<RoughStudy> rough =
      rough_study(site, weather, options.exact_climate, options.output);
  const report::Levers levers{.site = site,
                              .study = study,
                              .weather_file = weather_file(weather),
                              .rough = rough ? &*rough : nullptr};
  return {.text = levers_report(levers, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = study.now.holds() ? Status::done : Status::aim_missed};
}

}  // namespace

Command levers_command() {
  Command command{.name = "levers",
                  .help = "Which single change would meet the aim?",
                  .examples =
                      "  amptally levers terrace.json\n"
                      "  amptally levers terrace.json --format csv"};
  StudyOptions& options = command.runs(run_levers);
  add_site(command, options.site);
  add_study(command, options, "print the changes alone");
  return command;
}

}  // namespace amptally::cli
