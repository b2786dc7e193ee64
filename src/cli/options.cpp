#include "cli/options.hpp"

#include <limits>

#include <fmt/format.h>

#include "cli/option_values.hpp"

namespace amptally::cli {
namespace {

report::Format format_of(const std::string& word) {
  using report::Format;
  return choice_of<Format>(
      "--format", word,
      {{"table", Format::table}, {"json", Format::json}, {"csv", Format::csv}, {"md", Format::md}});
}

ColourChoice colour_of(const std::string& word) {
  return choice_of<ColourChoice>("--color", word,
                                 {{"auto", ColourChoice::automatic},
                                  {"always", ColourChoice::always},
                                  {"never", ColourChoice::never}});
}

void set_weather(const std::string& word, WeatherOptions& weather) {
  // Any other word is the name of a file; a slip is found when that is opened (weather_input.cpp).
  weather.mode = word == "mean"        ? WeatherMode::mean
                 : word == "synthetic" ? WeatherMode::synthetic
                                       : WeatherMode::file;
  if (weather.mode == WeatherMode::file) weather.file = file_of("--weather", word);
}

}  // namespace

void check_weather(const WeatherOptions& weather) {
  if (!weather.mode || weather.mode == WeatherMode::synthetic) return;
  const char* const given = weather.years ? "--years" : weather.seed ? "--seed" : nullptr;
  if (given == nullptr) return;
  throw UsageError(fmt::format("{} goes with synthetic weather; {}", given,
                               weather.mode == WeatherMode::mean
                                   ? "the mean year is one year, without chance"
                                   : "a file has the years it has, without chance"));
}

void add_flag(Command& command, const char* name, const char* help, bool& is_set) {
  command.options.push_back(
      {.names = {name}, .help = help, .take = [&is_set](const std::string&) { is_set = true; }});
}

void add_site(Command& command, SiteOptions& site) {
  command.words.push_back({.names = {"SITE"},
                           .value = "SITE",
                           .help = "site file; - reads standard input",
                           .take = file_name("SITE", site.file)});
  add_flag(command, "--demo", "use the built-in example instead of a file", site.demo);
  command.options.push_back({.names = {"--set"},
                             .value = "PATH=VALUE",
                             .help = "change one field for this run; may be repeated",
                             .is_repeatable = true,
                             .take = any_texts(site.settings)});
}

void add_output_file(Command& command, std::string& file) {
  command.options.push_back({.names = {"-o", "--output"},
                             .value = "FILE",
                             .help = "write the result to FILE, whole or not at all",
                             .is_output = true,
                             .take = file_name("--output", file)});
}

void add_format(Command& command, OutputOptions& output, const char* help) {
  command.options.push_back(
      {.names = {"--format"},
       .value = "table|json|csv|md",
       .help = help,
       .take = [&output](const std::string& word) { output.format = format_of(word); }});
  add_output_file(command, output.file);
}

void add_style(Command& command, OutputOptions& output, const char* quiet_help) {
  add_flag(command, "--quiet", quiet_help, output.quiet);
  command.options.push_back(
      {.names = {"--color"},
       .value = "auto|always|never",
       .help = "colour the words that stand out (auto)",
       .take = [&output](const std::string& word) { output.colour = colour_of(word); }});
}

void add_weather(Command& command, WeatherOptions& weather, const char* usual) {
  command.options.push_back(
      {.names = {"--weather"},
       .value = "mean|synthetic|FILE",
       .help = fmt::format("weather to run ({})", usual),
       .take = [&weather](const std::string& word) { set_weather(word, weather); }});
  command.options.push_back({.names = {"--years"},
                             .value = "N",
                             .help = "years of synthetic weather, 1..1000 (40)",
                             .take = [&weather](const std::string& text) {
                               weather.years = static_cast<int>(whole_of("--years", text, 1, 1000));
                             }});
  command.options.push_back({.names = {"--seed"},
                             .value = "N",
                             .help = "which chance synthetic weather takes (1)",
                             .take = [&weather](const std::string& text) {
                               weather.seed = whole_of("--seed", text, 0,
                                                       std::numeric_limits<std::uint64_t>::max());
                             }});
  // A command that has more to check sets its own check after this, and calls `check_weather` in
  // it.
  command.check = [&weather] { check_weather(weather); };
}

void add_exact_climate(Command& command, bool& exact_climate) {
  add_flag(command, "--exact-climate", "rough numbers: take the shipped sun as exact",
           exact_climate);
}

void add_study(Command& command, StudyOptions& study, const char* quiet_help) {
  add_format(command, study.output);
  add_style(command, study.output, quiet_help);
  add_exact_climate(command, study.exact_climate);
  add_weather(command, study.weather, "synthetic");
}

}  // namespace amptally::cli
