#include "cli/wiring.hpp"

#include <optional>

#include "amptally/rough_wiring.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {
namespace {

struct WiringOptions {
  SiteOptions site;
  OutputOptions output;
};

/// What was taken for granted on the way: the panel's label, and odd sections.
std::vector<Assumption> assumptions_of(const Site& site, const Simulation& prepared,
                                       const std::vector<CableCheck>& cables) {
  std::vector<Assumption> all = site.assumptions;
  const auto& label = prepared.rating.assumptions;
  all.insert(all.end(), label.begin(), label.end());
  for (const CableCheck& check : cables) {
    if (check.assumption.empty()) continue;
    all.push_back({AssumptionKind::cable, check.cable.name + ": " + check.assumption});
  }
  return all;
}

CommandResult run_wiring(const WiringOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  report::Wiring wiring = wiring_of(site, prepare(site));
  std::optional<RoughWiring> rough;
  if (!site.wiring.empty() && tells_ranges(site, options.output)) {
    wiring.rough = &rough.emplace(study_rough_wiring(site));
  }
  return {.text = wiring_report(wiring, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = wiring.holds() ? Status::done : Status::aim_missed};
}

}  // namespace

report::Wiring wiring_of(const Site& site, const Simulation& prepared) {
  report::Wiring wiring{.site = site,
                        .cables = check_wiring(site, prepared),
                        .findings = wiring_findings(site, prepared),
                        .assumptions = {}};
  wiring.assumptions = assumptions_of(site, prepared, wiring.cables);
  return wiring;
}

Command wiring_command() {
  Command command{.name = "wiring",
                  .help = "Which cable, which fuse, and what gets lost on the way?",
                  .examples =
                      "  amptally wiring terrace.json\n"
                      "  amptally wiring terrace.json --set wiring[1].section='2.5 mm2' --quiet"};
  WiringOptions& options = command.runs(run_wiring);
  add_site(command, options.site);
  add_format(command, options.output);
  add_style(command, options.output, "print the verdict alone");
  return command;
}

}  // namespace amptally::cli
