#include "amptally/error.hpp"

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "fuzz/variants.hpp"

namespace amptally::fuzz {

void sweep_values(std::string_view text, bool thorough) {
  for (const bool drawn : {false, true}) {
    std::vector<io::Problem> problems;
    try {
      io::FieldAxis axis = io::parse_vary(text, drawn, problems);
      for (const io::Problem& problem : problems) require_message(to_text(problem));
      if (!problems.empty() || !thorough) continue;
      std::vector<io::Axis> axes;
      axes.emplace_back(std::move(axis));
      require_variants(std::move(axes),
                       drawn ? std::optional(io::Draws{.count = 2, .seed = 1}) : std::nullopt);
    } catch (const InputError& error) {
      require_message(error.what());
    }
  }
}

}  // namespace amptally::fuzz
