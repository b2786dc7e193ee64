#include "cli/wiring.hpp"

#include "cli/commands.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {
namespace {

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

}  // namespace

report::Wiring wiring_of(const Site& site, const Simulation& prepared) {
  report::Wiring wiring{.site = site,
                        .cables = check_wiring(site, prepared),
                        .findings = find_in_wiring(site, prepared),
                        .assumptions = {}};
  wiring.assumptions = assumptions_of(site, prepared, wiring.cables);
  return wiring;
}

CommandResult run_command(const WiringOptions& options, const CommandContext& context) {
  const Site site = good_site(options.site, context.in);
  const report::Wiring wiring = wiring_of(site, prepare(site));
  return {.text = wiring_report(wiring, look_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = wiring.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
