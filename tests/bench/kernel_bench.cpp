// How fast many designs are run, against goals, and against the same arithmetic elsewhere.
// Run: kernel_bench
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <limits>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <unistd.h>

#include <fmt/core.h>

#include "amptally/levers.hpp"
#include "amptally/size.hpp"

#include "balance/batch/batch_simulation.hpp"
#include "balance/batch/kernel_dispatch.hpp"
#include "balance/parallel_for.hpp"
#include "day_walk.hpp"
#include "garden.hpp"
#include "process.hpp"
#include "shortest.hpp"
#include "sitefile/file_text.hpp"
#include "sitefile/site_reader.hpp"

using namespace amptally;
using namespace amptally::bench;

namespace {

constexpr int kThreads = 2;
constexpr int kManyDesigns = 1024;

// ---- What is printed -------------------------------------------------------------------------

struct Goal {
  double figure;
  bool at_least;  // else at most
};
Goal at_least(double figure) { return {figure, true}; }
Goal at_most(double figure) { return {figure, false}; }

void print_title(const std::string& title) {
  fmt::print("\n{:<58} {:>10}         {:>11}\n", title, "figure", "goal");
}

void print_row(const std::string& name, double figure, const char* unit,
               std::optional<Goal> goal = {}) {
  fmt::print("  {:<56} {:>10.{}f} {:<8}", name, figure, std::abs(figure) < 1000 ? 2 : 0, unit);
  if (goal) {
    const bool met = goal->at_least ? figure >= goal->figure : figure <= goal->figure;
    fmt::print(" {:>2} {:>8} {}", goal->at_least ? ">=" : "<=", goal->figure,
               met ? "ok" : "NOT MET");
  }
  fmt::print("\n");
  std::fflush(stdout);
}

Site lead_garden() { return garden(battery_kind("agm"), RegulatorKind::pwm); }

double ns_a_step(double ms, double designs, double years) {
  return 1e6 * ms / (designs * years * kHoursPerYear);
}

// ---- The hourly step ---------------------------------------------------------------------------

constexpr int kStepRepeats = 60;

// One design after another, each through its year before the next begins.
double scalar_loop_ns(const Variants& variants) {
  std::vector<DayWalk> walks;
  for (const Design& design : variants.designs) walks.emplace_back(std::span(&design, 1));
  return ns_a_step(shortest_ms(kStepRepeats,
                               [&] {
                                 for (DayWalk& walk : walks)
                                   walk.run(kPortableKernel, kDaysPerYear);
                               }),
                   kBlockLanes, 1);
}

Goal goal_of(const DayKernel& kernel) {
  switch (kernel.width) {
    case 1:
      return at_least(1);
    case 2:
      return at_least(1.7);
    case 4:
      return at_least(4);
    default:
      return at_least(8);
  }
}

void measure_steps() {
  const Variants variants(lead_garden(), kBlockLanes);
  const double scalar_ns = scalar_loop_ns(variants);
  std::vector<double> kernel_ns;
  for (const DayKernel* kernel : kernels()) {
    DayWalk walk(variants.designs);
    kernel_ns.push_back(ns_a_step(
        shortest_ms(kStepRepeats, [&] { walk.run(*kernel, kDaysPerYear); }), kBlockLanes, 1));
  }

  print_title(fmt::format("An hour of one of {} designs that share their year", kBlockLanes));
  print_row("scalar loop, one design after another", scalar_ns, "ns");
  for (std::size_t i = 0; i < kernel_ns.size(); ++i) {
    const DayKernel& kernel = *kernels()[i];
    const std::string name =
        fmt::format("{}, {} at a time, side by side", kernel.name, kernel.width);
    print_row(name, kernel_ns[i], "ns");
    print_row("  times as fast as the scalar loop", scalar_ns / kernel_ns[i], "x", goal_of(kernel));
    print_row("  times as fast as portable side by side", kernel_ns[0] / kernel_ns[i], "x");
  }
}

// Whole runs of a block, with the run-in year and all that goes on around the days.
double block_ns(const std::vector<const Design*>& designs, bool shared) {
  const double ms = shortest_ms(kStepRepeats / 2, [&] {
    static_cast<void>(
        simulate_batch(widest_kernel(), designs, WeatherMode::synthetic, shared, false));
  });
  return ns_a_step(ms, static_cast<double>(designs.size()), 2);
}

void measure_own_days() {
  const Variants variants(lead_garden(), kBlockLanes);
  std::vector<Design> own = variants.designs;
  for (Design& design : own) {
    design.years = std::make_shared<const WeatherCache>(*design.years);
    design.loads = std::make_shared<const SharedLoads>(*design.loads);
  }
  std::vector<const Design*> sharing;
  std::vector<const Design*> apart;
  for (const Design& design : variants.designs) sharing.push_back(&design);
  for (const Design& design : own) apart.push_back(&design);
  print_title(fmt::format("A whole run of {} designs, {}", kBlockLanes, widest_kernel().name));
  print_row("designs that share year and loads, an hour of one", block_ns(sharing, true), "ns");
  print_row("designs that share nothing", block_ns(apart, false), "ns");
}

// ---- Many designs over many years --------------------------------------------------------------

struct Job {
  int designs;
  int years;
};

WeatherChoice weather_of(const Job& job, int threads) {
  return {.mode = WeatherMode::synthetic, .years = job.years, .threads = threads};
}

void run_job(const Job& job) {
  const std::vector<Site> sites = spread_sizes(lead_garden(), job.designs);
  static_cast<void>(Study(lead_garden(), weather_of(job, kThreads)).run(sites));
}

// In processes of their own, since a process's peak memory never falls: to be called before
// anything else has made this one large.
OwnProcess leanest(const Job& job, int repeats) {
  OwnProcess best{std::numeric_limits<double>::max(), std::numeric_limits<long>::max()};
  for (int i = 0; i < repeats; ++i) {
    const OwnProcess one = in_own_process([&] { run_job(job); });
    best = {std::min(best.ms, one.ms), std::min(best.peak_kib, one.peak_kib)};
  }
  return best;
}

void measure_growth() {
  const OwnProcess base = leanest({kManyDesigns, 20}, 6);
  const OwnProcess designs = leanest({10 * kManyDesigns, 20}, 3);
  const OwnProcess years = leanest({kManyDesigns, 200}, 3);
  const auto kib = [](const OwnProcess& p) { return static_cast<double>(p.peak_kib); };
  print_title("Growth: processes of their own, sites made and run");
  print_row("1,024 designs x 20 years", base.ms, "ms");
  print_row("  most memory", kib(base), "KiB");
  print_row("10 times the designs", designs.ms / base.ms, "x", at_most(12));
  print_row("  most memory", kib(designs), "KiB");
  print_row("10 times the years", years.ms / base.ms, "x", at_most(12));
  print_row("  most memory", kib(years), "KiB");
  print_row("  to that of 20 years", kib(years) / kib(base), "x", at_most(1.1));
}

// Shortest runs of a job, ms.
struct JobTimes {
  double one_thread = std::numeric_limits<double>::max();
  double two_threads = one_thread;
  double with_weather = one_thread;     // on two threads
  double processors_half = one_thread;  // half of what two threads took of all processors
};

// In turn, so that all meet the same quiet moments.
JobTimes time_job(const Job& job, int repeats) {
  const std::vector<Site> sites = spread_sizes(lead_garden(), job.designs);
  const Study alone(lead_garden(), weather_of(job, 1));
  const Study together(lead_garden(), weather_of(job, kThreads));
  const auto keep_least = [](double& least, double ms) { least = std::min(least, ms); };
  JobTimes best;
  for (int i = 0; i < repeats; ++i) {
    keep_least(best.one_thread, time_ms([&] { static_cast<void>(alone.run(sites)); }));
    const std::clock_t before = std::clock();
    keep_least(best.two_threads, time_ms([&] { static_cast<void>(together.run(sites)); }));
    const double used_ms = 1e3 * static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
    keep_least(best.processors_half, used_ms / kThreads);
    keep_least(best.with_weather, time_ms([&] {
                 const Study study(lead_garden(), weather_of(job, kThreads));
                 static_cast<void>(study.run(sites));
               }));
  }
  return best;
}

std::vector<DayWalk> walks_of(const Variants& variants) {
  std::vector<DayWalk> walks;
  const std::span<const Design> all(variants.designs);
  for (std::size_t from = 0; from < all.size(); from += kBlockLanes) {
    walks.emplace_back(all.subspan(from, std::min<std::size_t>(kBlockLanes, all.size() - from)));
  }
  return walks;
}

// As many years on two threads, straight through the widest kernel.
void run_years(std::vector<DayWalk>& walks, int years) {
  in_parallel(static_cast<int>(walks.size()), kThreads, [&](int i) {
    for (int y = 0; y < years; ++y) {
      walks[static_cast<std::size_t>(i)].run(widest_kernel(), kDaysPerYear);
    }
  });
}

void measure_job() {
  const Variants variants(lead_garden(), kManyDesigns);
  std::vector<DayWalk> walks = walks_of(variants);
  const double kernel_ms = shortest_ms(20, [&] { run_years(walks, 20); });
  const JobTimes job = time_job({kManyDesigns, 20}, 20);
  const JobTimes small = time_job({256, 5}, 100);
  print_title("1,024 designs x 20 years");
  print_row("the kernel's days alone, two threads", kernel_ms, "ms", at_most(60));
  print_row("run on one thread, with a year to run in and all sums", job.one_thread, "ms");
  print_row("run on two threads", job.two_threads, "ms");
  print_row("  times as fast as one thread", job.one_thread / job.two_threads, "x", at_least(1.9));
  print_row("  if both processors were free, by processor time", job.processors_half, "ms");
  print_row("  times as fast, 256 designs x 5 years", small.one_thread / small.two_threads, "x",
            at_least(1.9));
  print_row("weather made and run, two threads", job.with_weather, "ms", at_most(100));
}

// ---- Commands ----------------------------------------------------------------------------------

Site example_site() {
  const std::string path = AMPTALLY_SOURCE_DIR "/examples/terrace.json";
  io::ReadResult read = io::read_site(io::read_file(path, std::cin), path, {});
  if (!read.site) throw std::runtime_error(path + " is not a site");
  return *read.site;
}

void measure_commands() {
  const Site site = example_site();
  const WeatherChoice years = {.mode = WeatherMode::synthetic, .years = 40, .threads = kThreads};
  print_title("What commands do, on the example site, 40 years, two threads");
  print_row("budget: mean year and synthetic years",
            shortest_ms(20,
                        [&] {
                          static_cast<void>(simulate(site));
                          static_cast<void>(simulate(site, years));
                        }),
            "ms", at_most(15));
  print_row("size: 40 panels x 40 batteries",
            shortest_ms(10, [&] { static_cast<void>(size_site(site, years)); }), "ms",
            at_most(150));
  print_row("levers", shortest_ms(10, [&] { static_cast<void>(study_levers(site, years)); }), "ms",
            at_most(300));
}

// ---- The same arithmetic elsewhere
// ---------------------------------------------------------------

// A case in a file, as long as it lives.
class CaseFile {
 public:
  explicit CaseFile(const Variants& variants)
      : path_(std::filesystem::temp_directory_path() /
              fmt::format("same_step_{}_{}", getpid(), variants.designs.size())) {
    std::ofstream file(path_);
    file << same_step_input(variants);
    if (!file.flush()) throw std::runtime_error(path_.string() + " cannot be written");
  }
  ~CaseFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  CaseFile(const CaseFile&) = delete;
  CaseFile& operator=(const CaseFile&) = delete;

  [[nodiscard]] std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

struct KernelResult {
  Totals totals;
  double ns = 0;  // a step
};

// A year on two threads, what a user gets.
KernelResult kernel_result(const Variants& variants) {
  KernelResult result;
  std::vector<DayWalk> once = walks_of(variants);
  run_years(once, 1);
  for (const DayWalk& walk : once) {
    result.totals.taken_ah += walk.totals().taken_ah;
    result.totals.short_ah += walk.totals().short_ah;
  }
  std::vector<DayWalk> often = walks_of(variants);
  result.ns = ns_a_step(shortest_ms(40, [&] { run_years(often, 1); }),
                        static_cast<double>(variants.designs.size()), 1);
  return result;
}

bool agrees(const std::string& text, const Totals& expected) {
  Totals told;
  std::istringstream(text) >> told.taken_ah >> told.short_ah;
  const auto near = [](double a, double b) { return b > 0 && std::abs(a - b) <= 1e-9 * b; };
  return near(told.taken_ah, expected.taken_ah) && near(told.short_ah, expected.short_ah);
}

// What a script takes for a step: a year's time less that of reading the input.
// @param command  without the number of days, which comes last
double script_ns(const std::function<std::vector<std::string>(int)>& command,
                 const Variants& variants, const Totals& expected) {
  std::string text;
  const double year_ms = shortest_ms(3, [&] { text = run_program(command(kDaysPerYear)); });
  const double reading_ms = shortest_ms(3, [&] { run_program(command(0)); });
  fmt::print("  {}\n", agrees(text, expected) ? "same result" : "ANOTHER RESULT");
  return ns_a_step(year_ms - reading_ms, static_cast<double>(variants.designs.size()), 1);
}

void measure_scripts() {
  const std::string scripts = AMPTALLY_SOURCE_DIR "/tests/bench/";
  const Variants few(lead_garden(), 10);
  const Variants many(lead_garden(), kManyDesigns);
  const KernelResult few_result = kernel_result(few);
  const KernelResult kernel = kernel_result(many);
  const CaseFile few_file(few);
  const CaseFile many_file(many);
  const auto python = [&](const char* script, const CaseFile& file) {
    return [&, script](int days) {
      return std::vector<std::string>{"/usr/bin/python3", scripts + script, file.path(),
                                      std::to_string(days)};
    };
  };
  const auto awk = [&](int days) {
    return std::vector<std::string>{
        "awk",          "-v", fmt::format("days={}", days), "-f", scripts + "same_step.awk",
        few_file.path()};
  };
  print_title("An hour of one design, elsewhere; kernel with two threads");
  print_row("kernel, 1,024 designs", kernel.ns, "ns");
  const double loop_ns = script_ns(python("same_step.py", few_file), few, few_result.totals);
  print_row("python, a plain loop, 10 designs", loop_ns, "ns");
  print_row("  kernel times as fast", loop_ns / kernel.ns, "x", at_least(5000));
  const double awk_ns = script_ns(awk, few, few_result.totals);
  print_row("awk, a plain loop, 10 designs", awk_ns, "ns");
  print_row("  kernel times as fast", awk_ns / kernel.ns, "x");
  const double numpy_ns = script_ns(python("same_step_numpy.py", many_file), many, kernel.totals);
  print_row("numpy, 1,024 designs at once", numpy_ns, "ns");
  print_row("  kernel times as fast", numpy_ns / kernel.ns, "x", at_least(25));
}

// ---- Start of the program
// ------------------------------------------------------------------------

void measure_start() {
  double ours_ms = std::numeric_limits<double>::max();
  double empty_ms = ours_ms;
  for (int i = 0; i < 200; ++i) {
    ours_ms = std::min(ours_ms, time_ms([] { run_program({AMPTALLY_PROGRAM, "--version"}); }));
    empty_ms = std::min(empty_ms, time_ms([] { run_program({AMPTALLY_EMPTY_PROGRAM}); }));
  }
  print_title("Start and end of a process");
  print_row("an empty program with the same libraries", empty_ms, "ms");
  print_row("amptally --version", ours_ms, "ms");
  print_row("  times as long", ours_ms / empty_ms, "x", at_most(1.2));
}

}  // namespace

int main() {
  try {
    fmt::print("Shortest of many repeats each.\n");
    measure_growth();
    measure_steps();
    measure_own_days();
    measure_job();
    measure_commands();
    measure_scripts();
    measure_start();
    return 0;
  } catch (const std::exception& e) {
    fmt::print(stderr, "kernel_bench: {}\n", e.what());
    return 2;
  }
}
