#include "report/sun.hpp"

#include "cli/commands.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {

Outcome run_command(const SunOptions& options, const Surroundings& around) {
  const Site site = good_site(options.site, around.in);
  const PanelPlane plane = panel_plane(site);
  const SiteSky sky = site_sky(site.place, plane);
  report::Sun sun{.site = site, .months = sun_months(sky, mean_sun_year(sky)), .tilts = {}};
  if (options.tilts) sun.tilts = compare_tilts(site.place, plane);
  return {.text = sun_report(sun, look_of(options.output, around.terminal)),
          .file = options.output.file};
}

}  // namespace amptally::cli
