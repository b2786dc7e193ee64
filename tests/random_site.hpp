#pragma once

#include <cstdint>
#include <set>
#include <string>
#include <vector>

#include "amptally/site.hpp"

namespace amptally::testing {

/// A site of chance, as a file and as read from it.
struct RandomSite {
  std::string text;  ///< a site file: what a failing test shows, to be run by hand
  Site site;         ///< what the reader makes of it
};

/// Any site that the reader lets pass and whose year can be walked, the same on every machine.
///
/// Every latitude, both hemispheres' climates, labels of every form, regulators, chemistries, loads
/// of each kind, shade, water, cables, rough numbers; panels of 0.1 W to 10 kW with batteries and
/// loads from hopeless to far too large for them. One site in four has numbers given as ranges.
[[nodiscard]] RandomSite random_site_file(std::uint64_t seed);

/// What a site has of all that these sites differ in: "polar", "strings", "cutoff in volts" ...
[[nodiscard]] std::set<std::string> kinds_of(const Site& site);

/// The seeds of the sites of chance that a test runs, `all` of them being 0..all-1:
/// site_count(all), with sites of every kind among them, each at least twice, whatever the share.
/// For these, seeds from further on may come in.
[[nodiscard]] std::vector<std::uint64_t> seeds_to_run(std::uint64_t all);

/// How many of `all` cases of chance a test runs: a tenth, or the share in per cent that the
/// environment variable AMPTALLY_SITES_PCT asks for: 100 for all of them, before a release or when
/// the model has changed.
[[nodiscard]] std::uint64_t site_count(std::uint64_t all);

}  // namespace amptally::testing
