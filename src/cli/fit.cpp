#include "report/fit.hpp"

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {

CommandResult run_command(const FitOptions& options, const CommandContext& context) {
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

}  // namespace amptally::cli
