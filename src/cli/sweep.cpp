#include "report/sweep.hpp"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <ostream>
#include <vector>

#include <fmt/format.h>

#include "cli/batch_size.hpp"
#include "cli/command.hpp"
#include "cli/interrupt.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "cli/output_style.hpp"
#include "cli/progress.hpp"
#include "cli/site_input.hpp"
#include "cli/sweep_plan.hpp"
#include "cli/sweep_runner.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

struct SweepOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  CombinationOptions combinations;
  io::Shard shard;
  bool life = false;  ///< how long the battery lasts as well
};

// Chosen: a table that long is for a program to read.
constexpr std::uint64_t kMostTableRows = 1000;

bool is_for_people(const OutputOptions& output) {
  return output.format == report::Format::table || output.format == report::Format::md;
}

/// Hands records on as they come, but for a table, which waits until it knows all widths.
class RecordOutput {
 public:
  RecordOutput(const SweepOptions& options, const CommandContext& context,
               const std::vector<io::VariedField>& fields)
      : is_table_(is_for_people(options.output)),
        style_(style_of(options.output, context.terminal)),
        sink_(options.output.file, context.out),
        lines_(fields, options.output.format, options.life),
        table_(fields) {
    // The shards' outputs, one behind the other, are one table.
    if (!is_table_ && options.shard.part == 1) sink_.write(lines_.head());
  }

  void write(const std::vector<Variant>& variants) {
    std::string text;
    for (const Variant& variant : variants) {
      const report::SweepRecord record{variant.values, variant.result, variant.error};
      is_table_ ? table_.add(record) : lines_.append(text, record);
    }
    if (!text.empty()) sink_.write(text);
  }

  void finish() {
    if (is_table_) sink_.write(table_.text(style_));
    sink_.finish();
  }

 private:
  bool is_table_;
  report::OutputStyle style_;
  ResultSink sink_;
  report::SweepLines lines_;
  report::SweepTable table_;
};

void refuse_long_table(const SweepOptions& options, const io::Combinations& combinations) {
  if (!is_for_people(options.output) || combinations.count() <= kMostTableRows) return;
  throw UsageError(
      fmt::format("{} records are too many for a table, which takes {} (--format csv "
                  "or json)",
                  combinations.count(), kMostTableRows));
}

/// Says which rough numbers every record takes by their middles.
void print_rough_note(const Site& site, std::ostream& err) {
  if (site.rough.empty()) return;
  std::string fields;
  for (const RoughInput& input : site.rough) {
    fields += (fields.empty() ? "" : ", ") + input.field;
  }
  print_message(err, fmt::format("rough numbers are taken by their middles: {}", fields));
}

bool shows_progress(const OutputOptions& output, const Terminal& terminal) {
  // Records that run over the same screen show the progress themselves.
  const bool is_in_the_way =
      terminal.is_terminal && !output.goes_to_file() && !is_for_people(output);
  return terminal.has_messages && !output.quiet && !is_in_the_way;
}

struct RecordCount {
  std::uint64_t done = 0;
  std::uint64_t errors = 0;
  std::string first_error;

  void add(const std::vector<Variant>& variants) {
    for (const Variant& variant : variants) {
      if (!variant.error.empty() && errors++ == 0) first_error = variant.error;
    }
    done += variants.size();
  }
};

/// Runs a span to its end, or to the next record once a signal comes.
RecordCount run_span(const SweepRunner& runner, io::Span span, RecordOutput& output,
                     Progress& progress, const InterruptWatch& watch) {
  RecordCount count;
  BatchSize batch;
  for (std::uint64_t at = span.first; at < span.end && watch.signal() == 0;) {
    const auto start = std::chrono::steady_clock::now();
    const std::uint64_t end = at + std::min(batch.records(), span.end - at);
    const std::vector<Variant> variants = runner.run({at, end});
    batch.took(std::chrono::steady_clock::now() - start);
    output.write(variants);
    count.add(variants);
    at = end;
    if (at < span.end) progress.at(count.done);
  }
  return count;
}

CommandResult run_sweep(const SweepOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file},
                      {"weather", options.weather.file},
                      {"rows", options.combinations.rows_file}});
  const io::Combinations combinations = combinations_of(
      options.combinations, options.weather.seed.value_or(WeatherChoice().seed), context.in);
  refuse_long_table(options, combinations);
  const io::VariantReader reader = good_variants(options.site, combinations.fields(), context.in);
  reader.check_places(combinations.at(0));
  const SweepRunner runner(reader, combinations, wide_study_weather(options.weather, context.in),
                           options.life);
  const InterruptWatch watch;  // not before: all is read, and nothing waits for input any more
  if (!options.output.quiet && options.shard.part == 1) {
    const io::ReadResult first = reader.read(combinations.at(0));
    if (first.site) print_rough_note(*first.site, context.err);
  }

  const io::Span span = combinations.span(options.shard);
  RecordOutput output(options, context, combinations.fields());
  RecordCount count;
  {
    Progress progress(context.err, span.end - span.first,
                      shows_progress(options.output, context.terminal));
    count = run_span(runner, span, output, progress, watch);
  }
  // Stopped: a file is not finished, and so not kept; what went to standard output stands.
  if (count.done < span.end - span.first) {
    print_message(context.err,
                  fmt::format("stopped after {} of {} records", count.done, span.end - span.first));
    return {.text = {}, .status = stopped_by(watch.signal())};
  }
  output.finish();
  if (count.errors == 0) return {.text = {}};
  print_message(context.err, fmt::format("{} of {} records could not be run; the first: {}",
                                         count.errors, count.done, count.first_error));
  return {.text = {}, .status = Status::refused};
}

/// "2/8": part and how many there are.
io::Shard shard_of(const std::string& text) {
  const std::size_t slash = std::min(text.find('/'), text.size());
  const auto whole = [](std::string_view digits) {
    std::uint64_t value = 0;
    const char* const end_of_text = digits.data() + digits.size();
    const auto [end, fault] = std::from_chars(digits.data(), end_of_text, value);
    return fault == std::errc() && end == end_of_text ? value : 0;
  };
  const std::string_view all = text;
  const io::Shard shard{whole(all.substr(0, slash)),
                        whole(all.substr(std::min(slash + 1, all.size())))};
  if (shard.part >= 1 && shard.part <= shard.of) return shard;
  throw UsageError(fmt::format("--shard: \"{}\" is not I/N with I in 1..N, such as 2/8", text));
}

void check_sweep(const SweepOptions& options) {
  if (options.combinations.axes.empty() && options.combinations.rows_file.empty()) {
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
  if (options.combinations.draws) weather.seed.reset();
  check_weather(weather);
}

}  // namespace

Command sweep_command() {
  Command command{
      .name = "sweep",
      .help = "What if? One record for every combination of values",
      .examples =
          "  amptally sweep terrace.json --vary battery.capacity='7..40 Ah:3' \\\n"
          "      --format table\n"
          "  amptally sweep terrace.json --vary panel.power=50,100,150 \\\n"
          "      --vary regulator.kind=pwm,mppt --format csv\n"
          "  amptally sweep terrace.json --vary panel.tilt=0..90:0.5 --random 50 --seed 7\n"
          "  amptally sweep terrace.json --from combinations.csv -o records.jsonl\n\n"
          "A range A..B:STEP and single values, in the field's units, are parted by commas.\n"
          "The last --vary changes fastest."};
  SweepOptions& options = command.runs(run_sweep);
  options.output.format = report::Format::json;
  CombinationOptions& combinations = options.combinations;
  add_site(command, options.site);
  command.options.push_back({.names = {"--vary"},
                             .value = "PATH=VALUES",
                             .help = "a field's values; may be repeated",
                             .is_repeatable = true,
                             .take = any_texts(combinations.axes)});
  command.options.push_back({.names = {"--from"},
                             .value = "FILE",
                             .help = "combinations from CSV: fields in the first line",
                             .take = file_name("--from", combinations.rows_file)});
  command.options.push_back({.names = {"--random"},
                             .value = "N",
                             .help = "N combinations by chance instead of all",
                             .take = [&combinations](const std::string& text) {
                               combinations.draws =
                                   whole_of("--random", text, 1, io::Combinations::kMost);
                             }});
  command.options.push_back(
      {.names = {"--shard"},
       .value = "I/N",
       .help = "part I of N; joined, the parts are the whole",
       .take = [&options](const std::string& text) { options.shard = shard_of(text); }});
  add_flag(command, "--life", "how long the battery lasts as well (slow)", options.life);
  add_format(command, options.output, "form of the records (json, a line each)");
  add_style(command, options.output, "no progress and no remarks");
  add_weather(command, options.weather, "synthetic");
  command.check = [&options] { check_sweep(options); };
  return command;
}

}  // namespace amptally::cli
