#include "cli/options.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <string_view>
#include <utility>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <fmt/format.h>

#include "amptally/version.hpp"

#include "cli/command_text.hpp"
#include "cli/status.hpp"
#include "sitefile/hint.hpp"
#include "text/closest_word.hpp"

namespace amptally::cli {
namespace {

std::string hint(std::string_view word, std::span<const std::string_view> candidates) {
  return io::hint(near_miss(word, candidates));
}

/// What one of a few words stands for.
template <typename T>
T chosen(const char* option, const std::string& word,
         std::initializer_list<std::pair<std::string_view, T>> choices) {
  std::vector<std::string_view> words;
  for (const auto& [name, value] : choices) {
    if (name == word) return value;
    words.push_back(name);
  }
  throw UsageError(fmt::format("{}: \"{}\" is not one of {}{}", option, word,
                               fmt::join(words, ", "), hint(word, words)));
}

report::Format format_of(const std::string& word) {
  using report::Format;
  return chosen<Format>(
      "--format", word,
      {{"table", Format::table}, {"json", Format::json}, {"csv", Format::csv}, {"md", Format::md}});
}

ColourChoice colour_of(const std::string& word) {
  return chosen<ColourChoice>("--color", word,
                              {{"auto", ColourChoice::automatic},
                               {"always", ColourChoice::always},
                               {"never", ColourChoice::never}});
}

std::string file_of(const char* option, const std::string& name) {
  if (name.empty()) throw UsageError(fmt::format("{}: the name of the file is empty", option));
  return name;
}

void set_weather(const std::string& word, WeatherOptions& weather) {
  weather.mode = word == "mean"        ? WeatherMode::mean
                 : word == "synthetic" ? WeatherMode::synthetic
                                       : WeatherMode::file;
  if (weather.mode == WeatherMode::file) weather.file = file_of("--weather", word);
}

/// A whole number in `low`..`high`.
template <typename T>
T whole_of(const char* option, const std::string& text, T low, T high) {
  T value = 0;
  const char* const end_of_text = text.data() + text.size();
  const auto [end, fault] = std::from_chars(text.data(), end_of_text, value);
  const bool is_read = fault == std::errc() && end == end_of_text;
  if (is_read && value >= low && value <= high) return value;
  throw UsageError(
      fmt::format("{}: \"{}\" is not a whole number in {}..{}", option, text, low, high));
}

/// Only synthetic weather has a number of years to choose, and chance in it.
void check_weather(const WeatherOptions& weather) {
  if (!weather.mode || weather.mode == WeatherMode::synthetic) return;
  const char* const given = weather.years ? "--years" : weather.seed ? "--seed" : nullptr;
  if (given == nullptr) return;
  throw UsageError(fmt::format("{} goes with synthetic weather; {}", given,
                               weather.mode == WeatherMode::mean
                                   ? "the mean year is one year, without chance"
                                   : "a file has the years it has, without chance"));
}

/// Money in any currency. Chosen: the limit stops a slip, not a rich gardener.
double price_of(const char* option, const std::string& text) {
  constexpr double kMost = 1e6;
  double price = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), price);
  const bool is_read = fault == std::errc() && end == text.data() + text.size();
  if (is_read && price >= 0 && price <= kMost) return price;
  throw UsageError(fmt::format("{}: \"{}\" is not a number in 0..{:.0f}{}", option, text, kMost,
                               text.find(',') != text.npos ? " (write 0.8, not 0,8)" : ""));
}

/// Degrees in a part of LAT,LON.
double degrees_of(std::string_view text, double limit_deg, const char* name) {
  double value_deg = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value_deg);
  const bool is_read = fault == std::errc() && end == text.data() + text.size();
  if (is_read && std::abs(value_deg) <= limit_deg) return value_deg;
  throw UsageError(fmt::format("--near: {} \"{}\" is not a number in -{}..{} deg", name, text,
                               limit_deg, limit_deg));
}

std::pair<double, double> point_of(std::string_view text) {
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos || text.find(',', comma + 1) != std::string_view::npos) {
    const bool is_a_name = text.find_first_of("0123456789") == text.npos;
    throw UsageError(fmt::format(
        "--near: \"{}\" is not LAT,LON in degrees with decimal points, e.g. 43.36,-5.85{}", text,
        is_a_name ? "; a place by its name is amptally places NAME" : ""));
  }
  return {degrees_of(text.substr(0, comma), 90, "latitude"),
          degrees_of(text.substr(comma + 1), 180, "longitude")};
}

/// An option whose one value goes through `take`.
CLI::Option* add_value(CLI::App& command, const char* name, const char* value_name,
                       const char* help, const std::function<void(const std::string&)>& take) {
  return command.add_option_function<std::string>(name, take, help)->option_text(value_name);
}

void add_file(CLI::App& command, std::string& file) {
  add_value(command, "-o,--output", "FILE", "write the result to FILE, whole or not at all",
            [&file](const std::string& name) { file = file_of("--output", name); });
}

void add_format(CLI::App& command, OutputOptions& output, const char* help) {
  add_value(command, "--format", "table|json|csv|md", help,
            [&output](const std::string& word) { output.format = format_of(word); });
  add_file(command, output.file);
}

void add_format(CLI::App& command, OutputOptions& output) {
  add_format(command, output, "form of the result (table)");
}

void add_look(CLI::App& command, OutputOptions& output, const char* quiet_help) {
  command.add_flag("--quiet", output.quiet, quiet_help);
  add_value(command, "--color", "auto|always|never", "colour the words that stand out (auto)",
            [&output](const std::string& word) { output.colour = colour_of(word); });
}

void add_site(CLI::App& command, SiteOptions& site) {
  add_value(command, "SITE", "", "site file; - reads standard input",
            [&site](const std::string& name) { site.file = file_of("SITE", name); })
      ->type_name("");
  command.add_flag("--demo", site.demo, "use the built-in example instead of a file");
  command.add_option("--set", site.settings, "change one field for this run; may be repeated")
      ->option_text("PATH=VALUE")
      ->allow_extra_args(false);
}

/// @param usual  what is run where none is asked for
void add_weather(CLI::App& command, WeatherOptions& weather, const char* usual) {
  add_value(command, "--weather", "mean|synthetic|FILE",
            fmt::format("weather to run ({})", usual).c_str(),
            [&weather](const std::string& word) { set_weather(word, weather); });
  add_value(
      command, "--years", "N", "years of synthetic weather, 1..1000 (40)",
      [&weather](const std::string& text) { weather.years = whole_of("--years", text, 1, 1000); });
  add_value(command, "--seed", "N", "which chance synthetic weather takes (1)",
            [&weather](const std::string& text) {
              weather.seed = whole_of("--seed", text, std::uint64_t{0},
                                      std::numeric_limits<std::uint64_t>::max());
            });
  command.parse_complete_callback([&weather] { check_weather(weather); });
}

void add_exact_climate(CLI::App& command, bool& exact_climate) {
  command.add_flag("--exact-climate", exact_climate,
                   "rough numbers: take the shipped sun as exact");
}

constexpr std::string_view kExamples = "Examples:\n";

/// A command whose options land in an `Options` that becomes the result when it is chosen.
template <typename Options>
std::pair<CLI::App&, Options&> add_command(CLI::App& program, Command& result, const char* name,
                                           const char* description, const char* examples) {
  CLI::App* const command = program.add_subcommand(name, description)->group("Commands");
  const auto options = std::make_shared<Options>();
  command->callback([&result, options] { result = *options; });
  command->footer(std::string(kExamples) + examples);
  return {*command, *options};
}

void add_budget(CLI::App& program, Command& result) {
  auto [command, options] = add_command<BudgetOptions>(
      program, result, "budget", "Does the sun carry the draw here, month by month?",
      "  amptally budget terrace.json\n"
      "  amptally budget terrace.json --set battery.capacity='24 Ah' --quiet\n"
      "  amptally budget terrace.json --weather synthetic --years 200");
  add_site(command, options.site);
  add_format(command, options.output);
  add_look(command, options.output, "print the verdict alone");
  command.add_flag("--daily", options.daily, "all 365 days too (csv: in place of the months)");
  command.add_flag_callback(
      "--no-chart", [&output = options.output] { output.chart = false; },
      "do not draw the charge over the year");
  add_exact_climate(command, options.exact_climate);
  add_weather(command, options.weather, "mean, with synthetic beside");
}

/// What all commands share that run a site many times.
template <typename Options>
void add_study(CLI::App& command, Options& options, const char* quiet_help) {
  add_format(command, options.output);
  add_look(command, options.output, quiet_help);
  add_exact_climate(command, options.exact_climate);
  add_weather(command, options.weather, "synthetic");
}

void add_price(CLI::App& command, const char* name, const char* help,
               std::optional<double>& price) {
  add_value(command, name, "MONEY", help,
            [name, &price](const std::string& text) { price = price_of(name, text); });
}

void add_size(CLI::App& program, Command& result) {
  auto [command, options] =
      add_command<SizeOptions>(program, result, "size", "What panel and battery to buy?",
                               "  amptally size terrace.json --panel-price 0.8 --battery-price 3\n"
                               "  amptally size terrace.json --tilt --format csv\n"
                               "  amptally size terrace.json --parts parts.json");
  SizeOptions& size = options;
  add_site(command, size.site);
  add_price(command, "--panel-price", "of a watt of panel (1, an invented ratio)",
            size.panel_price);
  add_price(command, "--battery-price", "of 1 Ah of 12 V battery (2.5, invented too)",
            size.battery_price);
  command.add_flag("--tilt", size.tilt, "try other tilts as well");
  add_value(command, "--parts", "FILE", "choose from a list of parts with prices",
            [&size](const std::string& name) { size.parts_file = file_of("--parts", name); });
  add_study(command, size, "print the answer alone");
}

void add_fit(CLI::App& program, Command& result) {
  auto [command, options] = add_command<FitOptions>(
      program, result, "fit", "Does one more load fit, and how much of it?",
      "  amptally fit terrace.json --load 'valve: 300 mA, 20 min/day'\n"
      "  amptally fit terrace.json --load 'pump: 2 A, 10 min/day at 06:30 Apr-Sep'");
  add_site(command, options.site);
  command.add_option("--load", options.loads, "a new load; may be repeated")
      ->option_text("'NAME: DRAW, TIME/day [at HH:MM] [MONTHS]'")
      ->allow_extra_args(false)
      ->required();
  add_study(command, options, "print the answer alone");
}

void add_levers(CLI::App& program, Command& result) {
  auto [command, options] = add_command<LeversOptions>(
      program, result, "levers", "Which single change would meet the aim?",
      "  amptally levers terrace.json\n"
      "  amptally levers terrace.json --format csv");
  add_site(command, options.site);
  add_study(command, options, "print the changes alone");
}

/// "2/8": part and how many there are.
ShardChoice shard_of(const std::string& text) {
  const std::size_t slash = std::min(text.find('/'), text.size());
  const auto whole = [](std::string_view digits) {
    std::uint64_t value = 0;
    const char* const end_of_text = digits.data() + digits.size();
    const auto [end, fault] = std::from_chars(digits.data(), end_of_text, value);
    return fault == std::errc() && end == end_of_text ? value : 0;
  };
  const std::string_view all = text;
  const ShardChoice shard{whole(all.substr(0, slash)),
                          whole(all.substr(std::min(slash + 1, all.size())))};
  if (shard.part >= 1 && shard.part <= shard.of) return shard;
  throw UsageError(fmt::format("--shard: \"{}\" is not I/N with I in 1..N, such as 2/8", text));
}

void check_sweep(const SweepOptions& options) {
  if (options.axes.empty() && options.rows_file.empty()) {
    throw UsageError(
        "nothing varies: give --vary PATH=VALUES (such as "
        "battery.capacity='7..40 Ah:3'), or --from FILE");
  }
  const report::Format format = options.output.format;
  const bool is_lines = format == report::Format::json || format == report::Format::csv;
  if (options.shard.of > 1 && !is_lines) {
    throw UsageError("--shard goes with json and csv, whose parts can be joined");
  }
  // The seed may be that of the draws.
  WeatherOptions weather = options.weather;
  if (options.draws) weather.seed.reset();
  check_weather(weather);
}

void add_sweep(CLI::App& program, Command& result) {
  auto [command, options] = add_command<SweepOptions>(
      program, result, "sweep", "What if? One record for every combination of values",
      "  amptally sweep terrace.json --vary battery.capacity='7..40 Ah:3' \\\n"
      "      --format table\n"
      "  amptally sweep terrace.json --vary panel.power=50,100,150 \\\n"
      "      --vary regulator.kind=pwm,mppt --format csv\n"
      "  amptally sweep terrace.json --vary panel.tilt=0..90:0.5 --random 50 --seed 7\n"
      "  amptally sweep terrace.json --from combinations.csv -o records.jsonl\n\n"
      "A range A..B:STEP and single values, in the field's units, are parted by commas.\n"
      "The last --vary changes fastest.");
  SweepOptions& sweep = options;
  sweep.output.format = report::Format::json;
  add_site(command, sweep.site);
  command.add_option("--vary", sweep.axes, "a field's values; may be repeated")
      ->option_text("PATH=VALUES")
      ->allow_extra_args(false);
  add_value(command, "--from", "FILE", "combinations from CSV: fields in the first line",
            [&sweep](const std::string& name) { sweep.rows_file = file_of("--from", name); });
  add_value(command, "--random", "N", "N combinations by chance instead of all",
            [&sweep](const std::string& text) {
              sweep.draws = whole_of("--random", text, std::uint64_t{1}, std::uint64_t{1} << 53U);
            });
  add_value(command, "--shard", "I/N", "part I of N; joined, the parts are the whole",
            [&sweep](const std::string& text) { sweep.shard = shard_of(text); });
  command.add_flag("--life", sweep.life, "how long the battery lasts as well (slow)");
  add_format(command, sweep.output, "form of the records (json, a line each)");
  add_look(command, sweep.output, "no progress and no remarks");
  add_weather(command, sweep.weather, "synthetic");
  command.parse_complete_callback([&sweep] { check_sweep(sweep); });
}

void add_sun(CLI::App& program, Command& result) {
  auto [command, options] =
      add_command<SunOptions>(program, result, "sun", "How much sun does the panel get?",
                              "  amptally sun terrace.json --tilts\n"
                              "  amptally sun terrace.json --set panel.tilt='20 deg' --format csv");
  add_site(command, options.site);
  add_format(command, options.output);
  add_look(command, options.output, "print the figures alone");
  command.add_flag("--tilts", options.tilts, "compare tilts (csv: instead of the months)");
}

void add_water(CLI::App& program, Command& result) {
  auto [command, options] = add_command<WaterOptions>(
      program, result, "water",
      "What do the lines pass, how long must they run, does the tank last?",
      "  amptally water terrace.json\n"
      "  amptally water terrace.json --set water.lines[0].tube.bore='6 mm' --quiet");
  add_site(command, options.site);
  add_format(command, options.output);
  add_look(command, options.output, "print the answer alone");
}

void add_wiring(CLI::App& program, Command& result) {
  auto [command, options] = add_command<WiringOptions>(
      program, result, "wiring", "Which cable, which fuse, and what gets lost on the way?",
      "  amptally wiring terrace.json\n"
      "  amptally wiring terrace.json --set wiring[1].section='2.5 mm2' --quiet");
  add_site(command, options.site);
  add_format(command, options.output);
  add_look(command, options.output, "print the verdict alone");
}

void add_report(CLI::App& program, Command& result) {
  auto [command, options] = add_command<ReportOptions>(
      program, result, "report", "The whole picture as one HTML page, to read and to print",
      "  amptally report terrace.json -o terrace.html\n"
      "  amptally report terrace.json --set battery.capacity='24 Ah' -o larger.html");
  add_site(command, options.site);
  add_file(command, options.output.file);
  add_exact_climate(command, options.exact_climate);
  add_weather(command, options.weather, "mean, with synthetic beside");
}

void add_check(CLI::App& program, Command& result) {
  auto [command, options] = add_command<CheckOptions>(
      program, result, "check", "Is the site file right? Every mistake, with line and column",
      "  amptally check terrace.json\n"
      "  amptally check terrace.json --format json");
  add_site(command, options.site);
  add_format(command, options.output);
  add_look(command, options.output, "print nothing when all is well");
}

void add_places(CLI::App& program, Command& result) {
  auto [command, options] =
      add_command<PlacesOptions>(program, result, "places", "Which places have monthly tables?",
                                 "  amptally places port\n"
                                 "  amptally places --near 43.4,-5.8");
  PlacesOptions& places = options;
  command
      .add_option_function<std::vector<std::string>>(
          "WORD",
          [&places](const std::vector<std::string>& words) {
            places.words = fmt::format("{}", fmt::join(words, " "));
          },
          "part of a name, or a country in two letters")
      ->type_name("");
  add_value(command, "--near", "LAT,LON", "the ten places nearest to a point, in degrees",
            [&places](const std::string& text) { places.near = point_of(text); });
  add_format(command, places.output);
}

void add_explain(CLI::App& program, Command& result) {
  auto [command, options] = add_command<ExplainOptions>(program, result, "explain",
                                                        "What does a field of the site file mean?",
                                                        "  amptally explain regulator.standby\n"
                                                        "  amptally explain");
  command.add_option("PATH", options.path, "the field; without it all are listed")->type_name("");
  add_format(command, options.output);
}

void add_new(CLI::App& program, Command& result) {
  auto [command, options] =
      add_command<NewOptions>(program, result, "new", "A site file to start from",
                              "  amptally new > site.json\n"
                              "  amptally new --place Lisbon -o site.json");
  NewOptions& starter = options;
  add_value(command, "--place", "PLACE", "a shipped place to start with",
            [&starter](const std::string& name) { starter.place = name; });
  add_file(command, starter.file);
}

void add_schema(CLI::App& program, Command& result) {
  auto [command, options] = add_command<SchemaOptions>(
      program, result, "schema", "The JSON Schema of the site file, or of a parts list",
      "  amptally schema -o amptally-site.schema.json\n"
      "  amptally schema parts");
  SchemaOptions& schema = options;
  add_value(command, "KIND", "site|parts", "of which file (site)",
            [&schema](const std::string& word) {
              schema.parts = chosen<bool>("KIND", word, {{"site", false}, {"parts", true}});
            });
  add_file(command, schema.file);
}

using Adder = void (*)(CLI::App&, Command&);
constexpr std::pair<std::string_view, Adder> kCommands[] = {
    {"budget", add_budget}, {"size", add_size},    {"fit", add_fit},       {"levers", add_levers},
    {"sweep", add_sweep},   {"sun", add_sun},      {"water", add_water},   {"wiring", add_wiring},
    {"report", add_report}, {"check", add_check},  {"places", add_places}, {"explain", add_explain},
    {"new", add_new},       {"schema", add_schema}};

/// Asked by the shells, with words as unfinished as they come; not for people, so not in the help.
constexpr std::string_view kComplete = "complete";

std::vector<std::string_view> command_names() {
  std::vector<std::string_view> names;
  for (const auto& [name, add] : kCommands) names.push_back(name);
  return names;
}

void check_first_word(int argc, const char* const* argv) {
  if (argc < 2) throw UsageError("no command given; see amptally --help");
  const std::string_view word = argv[1];
  const std::vector<std::string_view> names = command_names();
  if (std::find(names.begin(), names.end(), word) != names.end()) return;
  if (word == "--help" || word == "-h" || word == "--version") return;
  if (word.starts_with('-') && word.size() > 1) {
    static constexpr std::string_view kOptions[] = {"--help", "--version"};
    throw UsageError(
        fmt::format("unknown option {}{}; the command comes first, see amptally --help", word,
                    hint(word, kOptions)));
  }
  if (word == "-" || word.ends_with(".json")) {
    throw UsageError(fmt::format("the command comes first, such as amptally budget {}", word));
  }
  throw UsageError(
      fmt::format("unknown command \"{}\"{}; see amptally --help", word, hint(word, names)));
}

/// Why the words left over cannot be used.
std::string leftover_message(const CLI::App& command) {
  const std::vector<std::string> words = command.remaining();
  if (words.empty()) return "too many words";
  const std::string& word = words.front();
  if (!word.starts_with('-')) return fmt::format("\"{}\" is one word too many", word);
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  const std::string given = word.substr(0, word.find('='));
  const std::vector<std::string_view> candidates(names.begin(), names.end());
  return fmt::format("unknown option {}{}", given, hint(given, candidates));
}

/// CLI11's complaint in our words: one line that names what was given.
std::string plain_message(const CLI::ParseError& error, const CLI::App& command) {
  const std::string what = error.what();
  // An option that is missing may be there, misspelled.
  const bool is_missing_option = dynamic_cast<const CLI::RequiredError*>(&error) != nullptr;
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr ||
      (is_missing_option && command.remaining_size() > 0)) {
    return leftover_message(command);
  }
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    const std::string name = what.substr(0, what.find(':'));
    const bool is_missing = what.find("missing") != std::string::npos;
    return name + (is_missing ? " needs a value" : " is given more than once");
  }
  return what.substr(0, what.find('\n'));
}

std::string version_line() { return fmt::format("amptally {}", kVersion); }

// Where the words on options and on commands begin: a terminal of 80 columns holds them all.
constexpr std::size_t kOptionColumn = 33;
constexpr std::size_t kCommandColumn = 13;

/// The command line without its commands.
void describe(CLI::App& program) {
  program.description("Power budget of a small off-grid solar installation that waters plants.");
  program.get_formatter()->column_width(kOptionColumn);
  program.get_formatter()->label("SUBCOMMAND", "COMMAND");
  program.set_help_flag("-h,--help", "print this help and stop");
  program.set_version_flag("--version", version_line(), "print the version and stop");
  std::string footer =
      "Start here:\n"
      "  amptally budget --demo\n"
      "  amptally new > site.json\n"
      "amptally COMMAND --help lists the options of a command.\n\n"
      "Exit status:\n";
  for (const auto& [status, meaning] : kStatusMeanings) {
    footer += fmt::format("  {:<4}{}\n", static_cast<int>(status), meaning);
  }
  footer.pop_back();
  program.footer(footer);
  program.require_subcommand(1);
}

OptionText text_of(const CLI::Option& option) {
  OptionText text{.value = option.get_option_text(),
                  .help = option.get_description(),
                  .is_repeatable = option.get_items_expected_max() > 1};
  for (const std::string& name : option.get_snames()) text.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) text.names.push_back("--" + name);
  if (option.get_positional()) {
    text.names.push_back(option.get_name(true));
    if (text.value.empty()) text.value = text.names.front();
  }
  return text;
}

CommandText text_of(const CLI::App& command) {
  CommandText text{.name = command.get_name(),
                   .help = command.get_description(),
                   .examples = command.get_footer().substr(kExamples.size())};
  for (const CLI::Option* option : command.get_options()) {
    (option->get_positional() ? text.words : text.options).push_back(text_of(*option));
  }
  return text;
}

}  // namespace

std::vector<CommandText> command_texts() {
  CLI::App program;
  describe(program);
  Command ignored;
  std::vector<CommandText> texts;
  for (const auto& [name, add] : kCommands) {
    add(program, ignored);
    texts.push_back(text_of(*program.get_subcommand(std::string(name))));
  }
  return texts;
}

Command parse_options(int argc, const char* const* argv) {
  if (argc > 1 && std::string_view(argv[1]) == kComplete) {
    return CompleteOptions{{argv + 2, argv + argc}};
  }
  check_first_word(argc, argv);
  const std::string_view word = argv[1];
  // What starts the program only to see whether it is there should not wait for its options.
  if (argc == 2 && word == "--version") return ShowText{version_line() + "\n"};
  CLI::App program("", "amptally");
  describe(program);

  Command result;
  const bool is_command = !word.starts_with('-');  // else --help or --version
  for (const auto& [name, add] : kCommands) {
    if (!is_command || name == word) add(program, result);
  }
  const CLI::App& command = is_command ? *program.get_subcommand(argv[1]) : program;
  std::string mistake;
  try {
    program.parse(argc, argv);
    return result;
  } catch (const CLI::CallForHelp&) {
    if (!is_command) program.get_formatter()->column_width(kCommandColumn);
    return ShowText{command.help(is_command ? "amptally" : "")};
  } catch (const CLI::CallForVersion& version) {
    return ShowText{version.what() + std::string("\n")};
  } catch (const CLI::ParseError& error) {
    mistake = plain_message(error, command);
  } catch (const UsageError& error) {
    mistake = error.what();
  }
  throw UsageError(fmt::format("{}; see amptally {}--help", mistake,
                               is_command ? command.get_name() + " " : ""));
}

}  // namespace amptally::cli
