#include "amptally/error.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "fuzz/variants.hpp"

namespace amptally::fuzz {

void sweep_rows(std::string_view text, bool thorough) {
  try {
    std::vector<io::Problem> problems;
    io::RowAxis rows("rows.csv", std::string(text), problems);
    for (const io::Problem& problem : problems) require_message(to_text(problem));
    if (!problems.empty() || !thorough) return;
    std::vector<io::Axis> axes;
    axes.emplace_back(std::move(rows));
    require_variants(std::move(axes), std::nullopt);
  } catch (const Error& error) {
    require_message(error.what());
  }
}

}  // namespace amptally::fuzz
