#include "report/sweep.hpp"

#include <algorithm>
#include <optional>
#include <ostream>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/output.hpp"
#include "cli/site_input.hpp"
#include "cli/sweep_plan.hpp"
#include "cli/weather_input.hpp"
#include "core/parallel.hpp"

namespace amptally::cli {
namespace {

// Records that are run together. Chosen: the first few are soon there to be seen; a thousand keep
// every processor busy and fit in a few megabytes.
constexpr std::uint64_t kFirstChunk = 16;
constexpr std::uint64_t kLargestChunk = 1024;
constexpr std::uint64_t kChunkGrowth = 4;

// Chosen: a table that long is for a program to read.
constexpr std::uint64_t kMostTableRows = 1000;

/// One combination on its way.
struct Variant {
  std::vector<io::VariedValue> values;
  std::optional<Site> site;  ///< none where there is an error
  amptally::Outcome outcome;
  std::string error;
};

/// All that is wrong, on one line.
std::string joined(const std::vector<io::Problem>& problems) {
  std::string text;
  for (const io::Problem& problem : problems) {
    if (!text.empty()) text += "; ";
    text += problem.field.empty() ? problem.message : problem.field + ": " + problem.message;
  }
  return text;
}

/// Makes and runs the variants of one site, chunk by chunk.
class Runner {
 public:
  Runner(const io::VariantReader& reader, const io::Combinations& combinations,
         const WeatherChoice& weather, bool with_life)
      : reader_(reader),
        combinations_(combinations),
        weather_(weather),
        with_life_(with_life),
        study_(placed(*reader.unchanged().site), weather) {}

  [[nodiscard]] std::vector<Variant> run(io::Span span) const {
    std::vector<Variant> variants(span.end - span.first);
    each(variants, [&](Variant& variant, std::uint64_t i) {
      variant.values = combinations_.at(span.first + i);
      io::ReadResult read = reader_.read(variant.values);
      variant.error = joined(read.problems);
      if (read.site) variant.site = placed(std::move(*read.site));
    });
    run_together(variants);
    if (with_life_) add_life(variants);
    return variants;
  }

 private:
  template <class Work>
  void each(std::vector<Variant>& variants, const Work& work) const {
    in_parallel(static_cast<int>(variants.size()), weather_.threads, [&](int i) {
      const auto at = static_cast<std::size_t>(i);
      work(variants[at], at);
    });
  }

  [[nodiscard]] Site placed(Site site) const {
    return weather_.series ? site_under(*weather_.series, std::move(site)) : std::move(site);
  }

  void run_together(std::vector<Variant>& variants) const {
    std::vector<Site> sites;
    for (Variant& variant : variants) {
      if (variant.site) sites.push_back(*variant.site);
    }
    try {
      const std::vector<amptally::Outcome> outcomes = study_.run(sites);
      auto outcome = outcomes.begin();
      for (Variant& variant : variants) {
        if (variant.site) variant.outcome = *outcome++;
      }
    } catch (const Error&) {
      run_apart(variants);  // one cannot be run: which?
    }
  }

  void run_apart(std::vector<Variant>& variants) const {
    each(variants, [&](Variant& variant, std::uint64_t /*i*/) {
      if (!variant.site) return;
      try {
        variant.outcome = study_.run(*variant.site);
      } catch (const Error& error) {
        variant.error = error.what();
        variant.site.reset();
      }
    });
  }

  void add_life(std::vector<Variant>& variants) const {
    WeatherChoice alone = weather_;
    alone.threads = 1;
    each(variants, [&](Variant& variant, std::uint64_t /*i*/) {
      if (!variant.site) return;
      variant.outcome.year.battery_life_years =
          simulate(*variant.site, alone).balance.year.battery_life_years;
    });
  }

  const io::VariantReader& reader_;
  const io::Combinations& combinations_;
  WeatherChoice weather_;
  bool with_life_;
  Study study_;
};

/// How far a long run has come, in one line of a terminal that is gone at the end.
class Progress {
 public:
  Progress(std::ostream& err, std::uint64_t total, bool is_shown)
      : err_(err), total_(total), is_shown_(is_shown) {}
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress() { show(""); }

  void at(std::uint64_t done) {
    show(fmt::format("{} of {} records ({:.0f} %)", done, total_,
                     100 * static_cast<double>(done) / static_cast<double>(total_)));
  }

 private:
  void show(const std::string& text) {
    if (!is_shown_ || text.size() + width_ == 0) return;
    err_ << '\r' << text << std::string(width_ - std::min(width_, text.size()), ' ');
    if (text.empty()) err_ << '\r';
    err_.flush();
    width_ = text.size();
  }

  std::ostream& err_;
  std::uint64_t total_;
  bool is_shown_;
  std::size_t width_ = 0;
};

bool is_for_people(const OutputOptions& output) {
  return output.format == report::Format::table || output.format == report::Format::md;
}

/// Hands records on as they come, but for a table, which waits until it knows all widths.
class RecordOutput {
 public:
  RecordOutput(const SweepOptions& options, const Surroundings& around,
               const std::vector<io::VariedField>& fields)
      : is_table_(is_for_people(options.output)),
        look_(look_of(options.output, around.terminal)),
        sink_(options.output.file, around.out),
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
    if (is_table_) sink_.write(table_.text(look_));
    sink_.finish();
  }

 private:
  bool is_table_;
  report::Look look_;
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
  const bool goes_to_file = !output.file.empty() && output.file != "-";
  // Records that run over the same screen show the progress themselves.
  const bool is_in_the_way = terminal.is_terminal && !goes_to_file && !is_for_people(output);
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

/// Runs a span to its end, or to the next record once Ctrl-C is pressed.
Tally run_span(const Runner& runner, io::Span span, RecordOutput& output, Progress& progress,
               const InterruptWatch& watch) {
  Tally tally;
  std::uint64_t chunk = kFirstChunk;
  for (std::uint64_t at = span.first; at < span.end && !watch.is_interrupted();) {
    const std::uint64_t end = at + std::min(chunk, span.end - at);
    const std::vector<Variant> variants = runner.run({at, end});
    output.write(variants);
    tally.add(variants);
    at = end;
    if (at < span.end) progress.at(tally.done);
    chunk = std::min(chunk * kChunkGrowth, kLargestChunk);
  }
  return tally;
}

}  // namespace

Outcome run_command(const SweepOptions& options, const Surroundings& around) {
  refuse_input_twice({{"site", options.site.file},
                      {"weather", options.weather.file},
                      {"rows", options.rows_file}});
  const InterruptWatch watch;
  const io::Combinations combinations = combinations_of(options, around.in);
  refuse_long_table(options, combinations);
  const io::VariantReader reader = good_variants(options.site, combinations.fields(), around.in);
  reader.check_places(combinations.at(0));
  const Runner runner(reader, combinations, wide_study_weather(options.weather, around.in),
                      options.life);
  if (!options.output.quiet && options.shard.part == 1) {
    const io::ReadResult first = reader.read(combinations.at(0));
    if (first.site) tell_rough(*first.site, around.err);
  }

  const io::Span span = combinations.span({options.shard.part, options.shard.of});
  RecordOutput output(options, around, combinations.fields());
  Tally tally;
  {
    Progress progress(around.err, span.end - span.first,
                      shows_progress(options.output, around.terminal));
    tally = run_span(runner, span, output, progress, watch);
  }
  if (tally.done < span.end - span.first) {
    tell(around.err,
         fmt::format("stopped after {} of {} records", tally.done, span.end - span.first));
    return {.text = {}, .status = Status::interrupted};
  }
  output.finish();
  if (tally.errors == 0) return {.text = {}};
  tell(around.err, fmt::format("{} of {} records could not be run; the first: {}", tally.errors,
                               tally.done, tally.first_error));
  return {.text = {}, .status = Status::refused};
}

}  // namespace amptally::cli
