// What a record of a sweep costs besides the running of its years. Run: sweep_bench SITE.json
#include <ctime>
#include <fstream>
#include <iterator>
#include <string>

#include <fmt/core.h>

#include "amptally/study.hpp"

#include "report/sweep.hpp"
#include "sitefile/combinations.hpp"
#include "sitefile/variant_reader.hpp"

using namespace amptally;

namespace {

// Goal for 1,024 records on one thread of the machine this was written on (a server, 2.0 GHz
// class): half of what their years are to take.
constexpr double kMost_ms = 25;
constexpr std::uint64_t kRecords = 1024;

double processor_ms() { return 1000.0 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

io::Combinations combinations() {
  std::vector<io::Problem> problems;
  std::vector<io::Axis> axes;
  for (const char* axis : {"battery.capacity=7..38 Ah:1", "panel.power=20..175 W:5"}) {
    axes.emplace_back(io::parse_vary(axis, false, problems));
  }
  return {std::move(axes), {}};
}

}  // namespace

int main(int argc, char** argv) {
  std::ifstream file(argc > 1 ? argv[1] : "examples/terrace.json");
  const std::string site{std::istreambuf_iterator<char>(file), {}};
  const io::Combinations all = combinations();
  const io::VariantReader reader(site, "site", {}, all.fields());
  if (!reader.unchanged().site) {
    fmt::print("not a site file\n");
    return 2;
  }
  const JudgedYear outcome;
  const report::SweepLines lines(all.fields(), report::Format::json, false);

  std::string text;
  double made_ms = 0;
  double read_ms = 0;
  double told_ms = 0;
  for (std::uint64_t i = 0; i < kRecords; ++i) {
    const double start = processor_ms();
    const std::vector<io::VariedValue> values = all.at(i);
    const double made = processor_ms();
    const io::ReadResult read = reader.read(values);
    const double done = processor_ms();
    lines.append(text, {values, outcome, read.site ? "" : "refused"});
    made_ms += made - start;
    read_ms += done - made;
    told_ms += processor_ms() - done;
  }
  const double all_ms = made_ms + read_ms + told_ms;
  fmt::print("{} records: values {:.1f} ms, site {:.1f} ms, text {:.1f} ms: {:.1f} ms ({})\n",
             kRecords, made_ms, read_ms, told_ms, all_ms,
             all_ms <= kMost_ms ? "in time" : "TOO SLOW");
}
