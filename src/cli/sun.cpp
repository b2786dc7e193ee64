#include "report/sun.hpp"

#include "cli/commands.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {

CommandResult run_command(const SunOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  const PanelPlane plane = panel_plane(site);
  const SiteSky sky = site_sky(site.place, plane);
  report::Sun sun{.site = site, .months = sun_months(sky, mean_sun_year(sky)), .tilts = {}};
  if (options.tilts) sun.tilts = compare_tilts(site.place, plane);
  return {.text = sun_report(sun, style_of(options.output, context.terminal)),
          .file = options.output.file};
}

}  // namespace amptally::cli
