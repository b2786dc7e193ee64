#include "report/levers.hpp"

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {

CommandResult run_command(const LeversOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  Site site = good_site(options.site, context.in);
  const WeatherChoice weather = study_weather(options.weather, context.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  const LeverStudy study = find_levers(site, weather);
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

}  // namespace amptally::cli
