#include <optional>

#include "amptally/error.hpp"
#include "amptally/levers.hpp"
#include "amptally/size.hpp"
#include "amptally/water.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_runs.hpp"
#include "cli/wiring.hpp"
#include "report/page.hpp"

namespace amptally::cli {
namespace {

struct ReportOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;        // of which only the file
  bool exact_climate = false;  ///< as in StudyOptions
};

void refuse_terminal(const OutputOptions& output, const Terminal& terminal) {
  if (output.file.empty() && terminal.is_terminal) {
    throw UsageError(
        "the page is HTML, for a browser: give it a file with -o FILE.html, or -o - to have it "
        "here");
  }
}

/// Nothing where there is nothing to size: no draw, or no sun on the panel.
std::optional<Sizing> sizing_of(const WeatherRuns& runs) {
  try {
    return size_site(runs.site, runs.hardest);
  } catch (const ModelError&) {
    return std::nullopt;
  }
}

/// The changes that would mend what is missed, in the weather in which it is missed.
std::optional<LeverStudy> levers_of(const WeatherRuns& runs) {
  if (runs.changeable && !runs.changeable->holds()) {
    return study_levers(runs.site, runs.hardest);
  }
  if (!runs.balance.holds()) return study_levers(runs.site, runs.weather);
  return std::nullopt;
}

CommandResult run_report(const ReportOptions& options, const CommandContext& context) {
  refuse_terminal(options.output, context.terminal);
  refuse_input_twice({{"site", options.site.file}, {"weather", options.weather.file}});
  const std::string text = site_text(options.site, context.in);
  const WeatherRuns runs =
      run_in_weather(good_site_in(text, options.site), options.weather, context.in);
  const Site& site = runs.site;

  const std::optional<RoughStudy> rough =
      rough_study(site, runs.hardest, options.exact_climate, options.output);
  const report::Budget budget = runs.budget(rough ? &*rough : nullptr);
  report::Page page{.budget = budget, .site_text = text, .settings = options.site.settings};

  const std::optional<LeverStudy> lever_study = levers_of(runs);
  std::optional<report::Levers> levers;
  if (lever_study) {
    page.levers = &levers.emplace(report::Levers{.site = site, .study = *lever_study});
  }

  const std::optional<Sizing> sizing = sizing_of(runs);
  std::optional<report::SizeAnswer> sizes;
  if (sizing) {
    page.sizes = &sizes.emplace(
        report::SizeAnswer{.site = site, .weather = runs.hardest, .prices = {}, .sizing = *sizing});
  }

  const WaterStudy water_study = study_water(site);
  const std::vector<Finding> no_findings;  // they are among the budget's
  const report::WaterAnswer water{.site = site, .study = water_study, .findings = no_findings};
  if (site.water) page.water = &water;

  const report::Wiring wiring = wiring_of(site, runs.simulation);
  if (!site.wiring.empty()) page.wiring = &wiring;

  return {.text = page_html(page),
          .file = options.output.file,
          .status = budget.holds() ? Status::done : Status::aim_missed};
}

}  // namespace

Command report_command() {
  Command command{
      .name = "report",
      .help = "The whole picture as one HTML page, to read and to print",
      .examples =
          "  amptally report terrace.json -o terrace.html\n"
          "  amptally report terrace.json --set battery.capacity='24 Ah' -o larger.html"};
  ReportOptions& options = command.runs(run_report);
  add_site(command, options.site);
  add_output_file(command, options.output.file);
  add_exact_climate(command, options.exact_climate);
  add_weather(command, options.weather, "mean, with synthetic beside");
  return command;
}

}  // namespace amptally::cli
