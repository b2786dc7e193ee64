#include "report/sun.hpp"

#include <optional>

#include "amptally/rough_sun.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {
namespace {

struct SunOptions {
  SiteOptions site;
  OutputOptions output;
  bool tilts = false;
  bool exact_climate = false;
};

CommandResult run_sun(const SunOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  const PanelPlane plane = panel_plane(site);
  const SiteSky sky = site_sky(site.place, plane);
  report::Sun sun{.site = site, .months = sun_months(sky, mean_sun_year(sky)), .tilts = {}};
  std::optional<RoughSun> rough;
  if (const auto cases = rough_options(site, {}, options.exact_climate, options.output)) {
    sun.rough = &rough.emplace(study_rough_sun(site, *cases));
  }
  PanelPlane steepest = plane;
  if (options.tilts) {
    sun.tilts = compare_tilts(site.place, plane);
    steepest.tilt_deg = sun.tilts->tilts.back().tilt_deg;
  }
  if (const auto error = plane_error(site.place, steepest)) sun.assumptions.push_back(*error);
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
  add_flag(command, "--tilts", "compare tilts (csv: instead of the months)", options.tilts);
  add_exact_climate(command, options.exact_climate);
  return command;
}

}  // namespace amptally::cli
