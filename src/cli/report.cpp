#include <optional>

#include "amptally/error.hpp"
#include "amptally/levers.hpp"
#include "amptally/size.hpp"
#include "amptally/water.hpp"

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_runs.hpp"
#include "cli/wiring.hpp"
#include "report/page.hpp"

namespace amptally::cli {
namespace {

void refuse_terminal(const OutputOptions& output, const Terminal& terminal) {
  if (output.file.empty() && terminal.is_terminal) {
    throw UsageError(
        "the page is HTML, for a browser: give it a file with -o FILE.html, or -o - to have it "
        "here");
  }
}

/// Nothing where there is nothing to size: no draw, or no sun on the panel.
std::optional<Sizing> sizing_of(const Years& years) {
  try {
    return size_site(years.site, years.hardest);
  } catch (const ModelError&) {
    return std::nullopt;
  }
}

/// The changes that would mend what is missed, in the weather in which it is missed.
std::optional<LeverStudy> levers_of(const Years& years) {
  if (years.changeable && !years.changeable->holds()) {
    return study_levers(years.site, years.hardest);
  }
  if (!years.balance.holds()) return study_levers(years.site, years.weather);
  return std::nullopt;
}

}  // namespace

CommandResult run_command(const ReportOptions& options, const CommandContext& context) {
  refuse_terminal(options.output, context.terminal);
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  const std::string text = site_text(options.site, context.in);
  const Years years = run_years(good_site_in(text, options.site), options.weather, context.in);
  const Site& site = years.site;

  const std::optional<RoughStudy> rough =
      rough_study(site, years.hardest, options.exact_climate, options.output);
  const report::Budget budget = years.budget(rough ? &*rough : nullptr);
  report::Page page{.budget = budget, .site_text = text, .settings = options.site.settings};

  const std::optional<LeverStudy> lever_study = levers_of(years);
  std::optional<report::Levers> levers;
  if (lever_study) {
    page.levers = &levers.emplace(report::Levers{.site = site, .study = *lever_study});
  }

  const std::optional<Sizing> sizing = sizing_of(years);
  std::optional<report::SizeAnswer> sizes;
  if (sizing) {
    page.sizes = &sizes.emplace(report::SizeAnswer{
        .site = site, .weather = years.hardest, .prices = {}, .sizing = *sizing});
  }

  const WaterStudy water_study = study_water(site);
  const std::vector<Finding> no_findings;  // they are among the budget's
  const report::WaterAnswer water{.site = site, .study = water_study, .findings = no_findings};
  if (site.water) page.water = &water;

  const report::Wiring wiring = wiring_of(site, years.simulation);
  if (!site.wiring.empty()) page.wiring = &wiring;

  return {.text = page_html(page),
          .file = options.output.file,
          .status = budget.holds() ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
