#include "report/sweep.hpp"

#include <algorithm>
#include <chrono>
#include <ostream>
#include <vector>

#include <fmt/format.h>

#include "cli/batch_size.hpp"
#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/output.hpp"
#include "cli/progress.hpp"
#include "cli/site_input.hpp"
#include "cli/sweep_plan.hpp"
#include "cli/sweep_runner.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

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
      const report::SweepRecord record{variant.values, variant.outcome, variant.error};
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
void tell_rough(const Site& site, std::ostream& err) {
  if (site.rough.empty()) return;
  std::string fields;
  for (const RoughInput& input : site.rough) {
    fields += (fields.empty() ? "" : ", ") + input.field;
  }
  tell(err, fmt::format("rough numbers are taken by their middles: {}", fields));
}

bool shows_progress(const OutputOptions& output, const Terminal& terminal) {
  // Records that run over the same screen show the progress themselves.
  const bool is_in_the_way =
      terminal.is_terminal && !output.goes_to_file() && !is_for_people(output);
  return terminal.has_messages && !output.quiet && !is_in_the_way;
}

struct Tally {
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
Tally run_span(const SweepRunner& runner, io::Span span, RecordOutput& output, Progress& progress,
               const InterruptWatch& watch) {
  Tally tally;
  Pace pace;
  for (std::uint64_t at = span.first; at < span.end && watch.signal() == 0;) {
    const auto start = std::chrono::steady_clock::now();
    const std::uint64_t end = at + std::min(pace.size(), span.end - at);
    const std::vector<Variant> variants = runner.run({at, end});
    pace.took(std::chrono::steady_clock::now() - start);
    output.write(variants);
    tally.add(variants);
    at = end;
    if (at < span.end) progress.at(tally.done);
  }
  return tally;
}

}  // namespace

CommandResult run_command(const SweepOptions& options, const CommandContext& context) {
  refuse_input_twice({{"site", options.site.file},
                      {"weather", options.weather.file},
                      {"rows", options.rows_file}});
  const io::Combinations combinations = combinations_of(options, context.in);
  refuse_long_table(options, combinations);
  const io::VariantReader reader = good_variants(options.site, combinations.fields(), context.in);
  reader.check_places(combinations.at(0));
  const SweepRunner runner(reader, combinations, wide_study_weather(options.weather, context.in),
                           options.life);
  const InterruptWatch watch;  // not before: all is read, and nothing waits for input any more
  if (!options.output.quiet && options.shard.part == 1) {
    const io::ReadResult first = reader.read(combinations.at(0));
    if (first.site) tell_rough(*first.site, context.err);
  }

  const io::Span span = combinations.span({options.shard.part, options.shard.of});
  RecordOutput output(options, context, combinations.fields());
  Tally tally;
  {
    Progress progress(context.err, span.end - span.first,
                      shows_progress(options.output, context.terminal));
    tally = run_span(runner, span, output, progress, watch);
  }
  if (tally.done < span.end - span.first) {
    tell(context.err,
         fmt::format("stopped after {} of {} records", tally.done, span.end - span.first));
    return {.text = {}, .status = stopped_by(watch.signal())};
  }
  output.finish();
  if (tally.errors == 0) return {.text = {}};
  tell(context.err, fmt::format("{} of {} records could not be run; the first: {}", tally.errors,
                                tally.done, tally.first_error));
  return {.text = {}, .status = Status::refused};
}

}  // namespace amptally::cli
