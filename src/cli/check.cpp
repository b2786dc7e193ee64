#include "report/check.hpp"

#include "amptally/balance.hpp"
#include "amptally/error.hpp"

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {
namespace {

struct CheckOptions {
  SiteOptions site;
  OutputOptions output;
};

/// What the reader cannot see: values each in range that the model has no year for.
void check_together(const Site& site, report::Check& check) {
  try {
    check.assumptions = simulate(site).balance.assumptions;
    check.findings = input_findings(site);
  } catch (const InputError& error) {
    check.problems.push_back(
        {.file = check.file, .field = error.field(), .message = error.message()});
  } catch (const ModelError& error) {
    check.problems.push_back({.file = check.file, .field = "", .message = error.what()});
  }
}

CommandResult run_check(const CheckOptions& options, const CommandContext& context) {
  const io::ReadResult read = read_site(options.site, context.in);
  report::Check check{.file = site_name(options.site),
                      .problems = read.problems,
                      .assumptions = {},
                      .site = read.site};
  if (read.site) check_together(*read.site, check);
  const report::OutputStyle style = style_of(options.output, context.terminal);
  if (style.format == report::Format::table && !check.problems.empty()) {
    throw RefusedSite(check.problems);
  }
  return {.text = check_report(check, style),
          .file = options.output.file,
          .status = check.problems.empty() ? Status::done : Status::refused};
}

}  // namespace

Command check_command() {
  Command command{.name = "check",
                  .help = "Is the site file right? Every mistake, with line and column",
                  .examples =
                      "  amptally check terrace.json\n"
                      "  amptally check terrace.json --format json"};
  CheckOptions& options = command.runs(run_check);
  add_site(command, options.site);
  add_format(command, options.output);
  add_style(command, options.output, "print nothing when all is well");
  return command;
}

}  // namespace amptally::cli
