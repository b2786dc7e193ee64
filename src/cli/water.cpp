#include "amptally/water.hpp"

#include "amptally/error.hpp"

#include "cli/commands.hpp"
#include "cli/site_input.hpp"
#include "report/water.hpp"

namespace amptally::cli {

CommandResult run_command(const WaterOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  if (!site.water) {
    throw InputError("water", "is not in the site file; see amptally explain water.lines");
  }
  const WaterStudy study = study_water(site);
  const std::vector<Finding> findings = find_water(site, study);
  const report::WaterAnswer answer{.site = site, .study = study, .findings = findings};
  return {.text = water_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = study.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
