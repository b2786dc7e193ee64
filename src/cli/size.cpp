#include "report/size.hpp"

#include <algorithm>
#include <span>
#include <string_view>

#include <fmt/format.h>

#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"
#include "report/part_sets.hpp"
#include "sitefile/file_text.hpp"
#include "sitefile/parts_list_reader.hpp"

namespace amptally::cli {
namespace {

struct SizeOptions : StudyOptions {
  std::optional<double> panel_price;    ///< per W
  std::optional<double> battery_price;  ///< per Ah of 12 V
  bool tilt = false;                    ///< try others
  std::string parts_file;               ///< empty: none; "-": standard input
};

void check_together(const SizeOptions& options) {
  refuse_input_twice({{"site", options.site.file},
                      {"weather", options.weather.file},
                      {"parts", options.parts_file}});
  if (options.parts_file.empty()) return;
  const char* const given = options.panel_price     ? "--panel-price"
                            : options.battery_price ? "--battery-price"
                            : options.tilt          ? "--tilt"
                                                    : nullptr;
  if (given != nullptr) {
    throw UsageError(std::string(given) +
                     " does not go with --parts, which has prices of its own and one tilt");
  }
}

PartsList good_parts(const std::string& file, std::istream& in) {
  io::PartsReadResult result = io::read_parts(io::read_file(file, in), io::shown_name(file));
  if (result.parts) return std::move(*result.parts);
  throw RefusedSite(std::move(result.problems));
}

// What is to be chosen is not rough, whatever the file says of what is there now.
void settle_chosen(Site& site, bool whole_parts) {
  constexpr std::string_view kSizes[] = {"panel.power",      "panel.imp",
                                         "panel.isc",        "panel.tilt",
                                         "battery.capacity", "battery.max_charge_current"};
  // Of the panel only what its label says: mounting, losses and shade stay the site's.
  constexpr std::string_view kParts[] = {"panel.power", "panel.vmp", "panel.imp",
                                         "panel.voc",   "panel.isc", "panel.temp_coeff",
                                         "panel.noct",  "battery.",  "regulator."};
  const std::span<const std::string_view> chosen =
      whole_parts ? std::span<const std::string_view>(kParts) : kSizes;
  std::erase_if(site.rough, [&](const RoughInput& input) {
    // How deep the battery may go is the grower's to say, whatever battery is bought.
    if (input.field == "battery.floor") return false;
    return std::any_of(chosen.begin(), chosen.end(),
                       [&](std::string_view field) { return input.field.starts_with(field); });
  });
}

CommandResult from_parts(const Site& site, const WeatherChoice& weather, const SizeOptions& options,
                         const CommandContext& context) {
  const PartsList parts = good_parts(options.parts_file, context.in);
  const PartsChoice choice = choose_parts(site, parts, weather);
  std::optional<RoughStudy> rough;
  if (!choice.best.empty()) {
    Site bought = with_parts(site, parts, choice.best.front().set);
    if (bought.battery.kind != site.battery.kind) {  // then its floor is its kind's
      std::erase_if(bought.rough,
                    [](const RoughInput& input) { return input.field == "battery.floor"; });
    }
    rough = rough_study(bought, weather, options.exact_climate, options.output);
  }
  const report::PartsAnswer answer{.site = site,
                                   .weather = weather,
                                   .parts = parts,
                                   .choice = choice,
                                   .rough = rough ? &*rough : nullptr};
  return {.text = parts_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = choice.best.empty() ? Status::aim_missed : Status::done};
}

CommandResult run_size(const SizeOptions& options, const CommandContext& context) {
  check_together(options);
  Site site = good_site(options.site, context.in);
  const WeatherChoice weather = study_weather(options.weather, context.in);
  if (weather.series) site = site_under(*weather.series, std::move(site));
  settle_chosen(site, !options.parts_file.empty());
  if (!options.parts_file.empty()) return from_parts(site, weather, options, context);

  Prices prices;
  prices.panel_per_w = options.panel_price.value_or(prices.panel_per_w);
  prices.battery_per_ah = options.battery_price.value_or(prices.battery_per_ah);
  const Sizing sizing = size_site(site, weather, {.prices = prices, .try_tilts = options.tilt});
  report::SizeAnswer answer{.site = site,
                            .weather = weather,
                            .prices = prices,
                            .prices_given = options.panel_price && options.battery_price,
                            .sizing = sizing};
  std::optional<RoughStudy> rough;
  if (sizing.to_buy()) {
    const Site bought = with_sizes(site, sizing.to_buy()->sizes);
    answer.findings = site_findings(bought, simulate(bought, weather));
    rough = rough_study(bought, weather, options.exact_climate, options.output);
    if (rough) answer.rough = &*rough;
  }
  return {.text = size_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = sizing.best ? Status::done : Status::aim_missed};
}

/// Money in any currency. Chosen: the limit stops a slip, not a rich gardener.
double price_of(const char* option, const std::string& text) {
  constexpr double kMost = 1e6;
  const std::optional<double> price = number_in(text);
  if (price && *price >= 0 && *price <= kMost) return *price;
  throw UsageError(fmt::format("{}: \"{}\" is not a number in 0..{:.0f}{}", option, text, kMost,
                               text.find(',') != text.npos ? " (write 0.8, not 0,8)" : ""));
}

Option price_option(const char* name, const char* help, std::optional<double>& price) {
  return {.names = {name},
          .value = "MONEY",
          .help = help,
          .take = [name, &price](const std::string& text) { price = price_of(name, text); }};
}

}  // namespace

Command size_command() {
  Command command{.name = "size",
                  .help = "What panel and battery to buy?",
                  .examples =
                      "  amptally size terrace.json --panel-price 0.8 --battery-price 3\n"
                      "  amptally size terrace.json --tilt --format csv\n"
                      "  amptally size terrace.json --parts parts.json"};
  SizeOptions& options = command.runs(run_size);
  add_site(command, options.site);
  command.options.push_back(price_option(
      "--panel-price", "of a watt of panel (1, an invented ratio)", options.panel_price));
  command.options.push_back(price_option(
      "--battery-price", "of 1 Ah of 12 V battery (2.5, invented too)", options.battery_price));
  add_flag(command, "--tilt", "try other tilts as well", options.tilt);
  command.options.push_back({.names = {"--parts"},
                             .value = "FILE",
                             .help = "choose from a list of parts with prices",
                             .take = file_name("--parts", options.parts_file)});
  add_study(command, options, "print the answer alone");
  return command;
}

}  // namespace amptally::cli
