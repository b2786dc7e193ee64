#include "cli/sweep_runner.hpp"

#include <utility>

#include "amptally/error.hpp"

#include "balance/parallel_for.hpp"
#include "cli/weather_input.hpp"

namespace amptally::cli {
namespace {

/// All that is wrong, on one line.
std::string joined(const std::vector<io::Problem>& problems) {
  std::string text;
  for (const io::Problem& problem : problems) {
    if (!text.empty()) text += "; ";
    text += problem.field.empty() ? problem.message : problem.field + ": " + problem.message;
  }
  return text;
}

}  // namespace

SweepRunner::SweepRunner(const io::VariantReader& reader, const io::Combinations& combinations,
                         const WeatherChoice& weather, bool with_life)
    : reader_(reader),
      combinations_(combinations),
      weather_(weather),
      with_life_(with_life),
      study_(placed(*reader.unchanged().site), weather) {}

std::vector<Variant> SweepRunner::run(io::Span span) const {
  std::vector<Variant> variants(span.end - span.first);
  for_each_variant(variants, [&](Variant& variant, std::uint64_t i) {
    variant.values = combinations_.at(span.first + i);
    io::ReadResult read = reader_.read(variant.values);
    variant.error = joined(read.problems);
    if (read.site) variant.site = placed(std::move(*read.site));
  });
  run_as_batch(variants);
  if (with_life_) add_life(variants);
  return variants;
}

template <class Work>
void SweepRunner::for_each_variant(std::vector<Variant>& variants, const Work& work) const {
  in_parallel(static_cast<int>(variants.size()), weather_.threads, [&](int i) {
    const auto at = static_cast<std::size_t>(i);
    work(variants[at], at);
  });
}

Site SweepRunner::placed(Site site) const {
  return weather_.series ? site_under(*weather_.series, std::move(site)) : std::move(site);
}

void SweepRunner::run_as_batch(std::vector<Variant>& variants) const {
  std::vector<Site> sites;  // lent by the variants
  sites.reserve(variants.size());
  for (Variant& variant : variants) {
    if (variant.site) sites.push_back(std::move(*variant.site));
  }
  std::vector<amptally::JudgedYear> results;
  try {
    results = study_.run(sites);
  } catch (const Error&) {
    // One cannot be run. Running one by one will tell which.
  }
  std::size_t i = 0;
  for (Variant& variant : variants) {
    if (!variant.site) continue;
    *variant.site = std::move(sites[i]);
    if (!results.empty()) variant.result = results[i];
    ++i;
  }
  if (results.empty()) run_one_by_one(variants);
}

void SweepRunner::run_one_by_one(std::vector<Variant>& variants) const {
  for_each_variant(variants, [&](Variant& variant, std::uint64_t /*i*/) {
    if (!variant.site) return;
    try {
      variant.result = study_.run(*variant.site);
    } catch (const Error& error) {
      variant.error = error.what();
      variant.site.reset();
    }
  });
}

void SweepRunner::add_life(std::vector<Variant>& variants) const {
  WeatherChoice alone = weather_;
  alone.threads = 1;
  for_each_variant(variants, [&](Variant& variant, std::uint64_t /*i*/) {
    if (!variant.site) return;
    variant.result.year.battery_life_years =
        simulate(*variant.site, alone).balance.year.battery_life_years;
  });
}

}  // namespace amptally::cli
