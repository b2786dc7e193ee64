#include "cli/sweep_plan.hpp"

#include <utility>
#include <vector>

#include "amptally/error.hpp"

#include "cli/site_input.hpp"
#include "sitefile/file_text.hpp"

namespace amptally::cli {
namespace {

void add_rows(const std::string& file, std::istream& in, std::vector<io::Axis>& axes,
              std::vector<io::Problem>& problems) {
  axes.emplace_back(
      io::RowAxis(io::shown_name(file), io::read_file(file, in, io::kMaxRowsFileBytes), problems));
}

void add_axis(const std::string& text, bool drawn, std::vector<io::Axis>& axes,
              std::vector<io::Problem>& problems) {
  try {
    axes.emplace_back(io::parse_vary(text, drawn, problems));
  } catch (const InputError& error) {
    problems.push_back({"--vary " + text, 0, 0, error.field(), error.message()});
  }
}

}  // namespace

io::Combinations combinations_of(const CombinationOptions& options, std::uint64_t seed,
                                 std::istream& in) {
  std::vector<io::Axis> axes;
  std::vector<io::Problem> problems;
  if (!options.rows_file.empty()) add_rows(options.rows_file, in, axes, problems);
  for (const std::string& text : options.axes) {
    add_axis(text, options.draws.has_value(), axes, problems);
  }
  if (!problems.empty()) throw RefusedSite(std::move(problems));
  std::optional<io::Draws> draws;
  if (options.draws) draws = {*options.draws, seed};
  return {std::move(axes), draws};
}

}  // namespace amptally::cli
