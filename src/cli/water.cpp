#include "amptally/water.hpp"

#include <optional>

#include "amptally/error.hpp"
#include "amptally/rough_water.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "report/water.hpp"

namespace amptally::cli {
namespace {

struct WaterOptions {
  SiteOptions site;
  OutputOptions output;
  bool exact_climate = false;
};

CommandResult run_water(const WaterOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  if (!site.water) {
    throw InputError("water", "is not in the site file; see amptally explain water.lines");
  }
  const WaterStudy study = study_water(site);
  const std::vector<Finding> findings = water_findings(site, study);
  std::optional<RoughWater> rough;
  if (tells_ranges(site, options.output)) {
    rough = study_rough_water(site, {.exact_climate = options.exact_climate});
  }
  const report::WaterAnswer answer{
      .site = site, .study = study, .findings = findings, .rough = rough ? &*rough : nullptr};
  return {.text = water_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = study.holds() ? Status::done : Status::aim_missed};
}

}  // namespace

Command water_command() {
  Command command{
      .name = "water",
      .help = "What do the lines pass, how long must they run, does the tank last?",
      .examples =
          "  amptally water terrace.json\n"
          "  amptally water terrace.json --set water.lines[0].tube.bore='6 mm' --quiet"};
  WaterOptions& options = command.runs(run_water);
  add_site(command, options.site);
  add_format(command, options.output);
  add_style(command, options.output, "print the answer alone");
  add_exact_climate(command, options.exact_climate);
  return command;
}

}  // namespace amptally::cli
