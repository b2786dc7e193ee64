#include "report/sun.hpp"

#include <array>
#include <optional>
#include <utility>

#include "amptally/error.hpp"
#include "amptally/rough_sun.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

struct SunOptions {
  SiteOptions site;
  OutputOptions output;
  WeatherOptions weather;
  bool tilts = false;
  bool exact_climate = false;
};

std::array<SunMonth, 12> months_of(const SiteSky& sky, const WeatherChoice& weather) {
  if (weather.series) return series_months(sky, *weather.series);
  return sun_months(sky, mean_sun_year(sky));
}

CommandResult run_sun(const SunOptions& options, const CommandContext& context) {
  Site site = good_site(options.site, context.in);
  const WeatherChoice weather = weather_choice(options.weather, context.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  const PanelPlane plane = panel_plane(site);
  const SiteSky sky = site_sky(site.place, plane);
  report::Sun sun{.site = site,
                  .months = months_of(sky, weather),
                  .tilts = {},
                  .from_file = weather.series != nullptr};
  std::optional<RoughSun> rough;
  if (const auto cases = rough_options(site, weather, options.exact_climate, options.output)) {
    sun.rough = &rough.emplace(study_rough_sun(site, *cases));
  }
  PanelPlane steepest = plane;
  if (options.tilts) {
    sun.tilts = compare_tilts(site.place, plane);
    steepest.tilt_deg = sun.tilts->tilts.back().tilt_deg;
  }
  const auto error = plane_error(site.place, steepest);
  if (error && !(weather.series && weather.series->hourly)) sun.assumptions.push_back(*error);
  return {.text = sun_report(sun, style_of(options.output, context.terminal)),
          .file = options.output.file};
}

}  // namespace

Command sun_command() {
  Command command{.name = "sun",
                  .help = "How much sun does the panel get?",
                  .examples =
                      "  amptally sun terrace.json --tilts\n"
                      "  amptally sun terrace.json --set panel.tilt='20 deg' --format csv"};
  SunOptions& options = command.runs(run_sun);
  add_site(command, options.site);
  add_format(command, options.output);
  add_style(command, options.output, "print the figures alone");
  command.options.push_back(
      {.names = {"--weather"},
       .value = "FILE",
       .help = "months of a weather file, not the site's",
       .take = [&options](const std::string& word) {
         if (word == "synthetic") {
           throw UsageError("--weather: sun tells of mean months; synthetic years have the same");
         }
         options.weather.mode = word == "mean" ? WeatherMode::mean : WeatherMode::file;
         options.weather.file = word;
       }});
  add_flag(command, "--tilts", "compare tilts (csv: instead of the months)", options.tilts);
  add_exact_climate(command, options.exact_climate);
  return command;
}

}  // namespace amptally::cli
