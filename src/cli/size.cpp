#include "report/size.hpp"

#include <algorithm>
#include <span>
#include <string_view>

#include "cli/commands.hpp"
#include "cli/rough_study.hpp"
#include "cli/site_input.hpp"
#include "cli/weather_input.hpp"
#include "report/part_sets.hpp"
#include "sitefile/file_text.hpp"
#include "sitefile/parts_list_reader.hpp"

namespace amptally::cli {
namespace {

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
  constexpr std::string_view kParts[] = {"panel.power", "panel.vmp", "panel.imp",
                                         "panel.voc",   "panel.isc", "panel.temp_coeff",
                                         "panel.noct",  "battery.",  "regulator."};
  const std::span<const std::string_view> chosen =
      whole_parts ? std::span<const std::string_view>(kParts) : kSizes;
  std::erase_if(site.rough, [&](const RoughInput& input) {
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
    rough = rough_study(with_parts(site, parts, choice.best.front().set), weather,
                        options.exact_climate, options.output);
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

}  // namespace

CommandResult run_command(const SizeOptions& options, const CommandContext& context) {
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
    answer.findings = find_all(bought, simulate(bought, weather));
    rough = rough_study(bought, weather, options.exact_climate, options.output);
    if (rough) answer.rough = &*rough;
  }
  return {.text = size_report(answer, style_of(options.output, context.terminal)),
          .file = options.output.file,
          .status = sizing.best ? Status::done : Status::aim_missed};
}

}  // namespace amptally::cli
