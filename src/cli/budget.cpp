#include "report/budget.hpp"

#include "cli/commands.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {

Outcome run_command(const BudgetOptions& options, const Surroundings& around) {
  const Site site = good_site(options.site, around.in);
  const Simulation simulation = simulate(site);
  const report::Budget budget{.site = site,
                              .balance = simulation.balance,
                              .findings = find_all(site, simulation),
                              .daily = options.daily};
  return {.text = budget_report(budget, look_of(options.output, around.terminal)),
          .file = options.output.file,
          .status = simulation.balance.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
