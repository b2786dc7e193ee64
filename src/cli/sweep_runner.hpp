#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/study.hpp"

#include "sitefile/combinations.hpp"
#include "sitefile/variant_reader.hpp"

namespace amptally::cli {

/// One combination on its way.
struct Variant {
  std::vector<io::VariedValue> values;
  std::optional<Site> site;  ///< none where there is an error
  amptally::JudgedYear result;
  std::string error;  ///< one line; empty: it ran
};

/// Makes and runs the variants of one site, some at a time.
class SweepRunner {
 public:
  /// Reader and combinations must outlive it.
  /// @param with_life  whether the results have the battery's life
  /// @throws as `Study`, for the site as it is
  SweepRunner(const io::VariantReader& reader, const io::Combinations& combinations,
              const WeatherChoice& weather, bool with_life);

  /// The variants of a span, each with its result or its error.
  [[nodiscard]] std::vector<Variant> run(io::Span span) const;

 private:
  template <class Work>
  void for_each_variant(std::vector<Variant>& variants, const Work& work) const;
  [[nodiscard]] Site placed(Site site) const;
  void run_as_batch(std::vector<Variant>& variants) const;
  void run_one_by_one(std::vector<Variant>& variants) const;
  void add_life(std::vector<Variant>& variants) const;

  const io::VariantReader& reader_;
  const io::Combinations& combinations_;
  WeatherChoice weather_;
  bool with_life_;
  Study study_;  // last: `placed`, which its site goes through, needs the weather
};

}  // namespace amptally::cli
